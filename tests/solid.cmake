gw_test(solid_test ROOMS solid plane SOURCES solid_test.cpp LIBS rapidcheck)

# The kernel's module in a process of its own.
add_executable(print_step readers/print_step.cpp)
target_link_libraries(print_step PRIVATE gw_plane gw_warnings ${CMAKE_DL_LIBS})
set_target_properties(print_step PROPERTIES RUNTIME_OUTPUT_DIRECTORY ${PROJECT_BINARY_DIR}/tests)

find_package(nlohmann_json REQUIRED)
gw_test(step_reader_test ROOMS solid plane SOURCES readers/step_reader_test.cpp readers/part21.cpp
        LIBS nlohmann_json::nlohmann_json)
add_dependencies(step_reader_test print_step groovewright_kernel)

# The kernel's own reader of documents is the second reader of requirements: these libraries are this test's only.
gw_test(solid_limits_test ROOMS solid plane SOURCES solid_limits_test.cpp readers/xcaf_limits.cpp
        readers/part21.cpp LIBS rapidcheck)
target_include_directories(solid_limits_test SYSTEM PRIVATE ${OpenCASCADE_INCLUDE_DIR})
foreach(kit IN ITEMS TKXDESTEP TKXCAF TKLCAF TKCDF)
  target_link_libraries(solid_limits_test PRIVATE ${OpenCASCADE_LIBRARY_DIR}/lib${kit}.so)
endforeach()
