find_package(nlohmann_json REQUIRED)
gw_test(cli_test ROOMS base SOURCES cli_test.cpp LIBS nlohmann_json::nlohmann_json)
add_dependencies(cli_test groovewright groovewright_kernel)
