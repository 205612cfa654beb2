gw_test(drawing_test ROOMS drawing gauge section part spec catalog plane SOURCES drawing_test.cpp)
find_package(ZLIB REQUIRED)
find_package(nlohmann_json REQUIRED)
gw_test(drawing_reader_test ROOMS job ink drawing section part spec catalog report plane SOURCES readers/drawing_reader_test.cpp
        LIBS ZLIB::ZLIB nlohmann_json::nlohmann_json)
target_compile_definitions(drawing_reader_test PRIVATE GW_DRAWING_FONT="${OSIFONT}")
