gw_test(setup_test ROOMS job toolpath removal drive section part spec catalog plane SOURCES setup_test.cpp)
target_include_directories(setup_test PRIVATE ${PROJECT_SOURCE_DIR}/src)
