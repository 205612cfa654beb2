find_package(nlohmann_json REQUIRED)
gw_test(range_test ROOMS job drive section part spec catalog plane SOURCES range_test.cpp LIBS nlohmann_json::nlohmann_json)
