gw_test(print_test ROOMS print section part spec catalog mesh plane SOURCES print_test.cpp)
target_include_directories(print_test PRIVATE ${PROJECT_SOURCE_DIR}/src/print) # its joints
find_package(nlohmann_json REQUIRED)
gw_test(print_reader_test ROOMS job print section part spec catalog mesh plane SOURCES readers/print_reader_test.cpp LIBS gw_lib3mf nlohmann_json::nlohmann_json)
target_include_directories(print_reader_test PRIVATE ${PROJECT_SOURCE_DIR}/src/print)
