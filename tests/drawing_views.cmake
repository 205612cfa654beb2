gw_test(drawing_views_test ROOMS drawing SOURCES drawing_views_test.cpp)
target_include_directories(drawing_views_test PRIVATE ${PROJECT_SOURCE_DIR}/src/drawing)
