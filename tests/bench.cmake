find_package(benchmark REQUIRED)
include(${CMAKE_CURRENT_SOURCE_DIR}/bench/bare_kernel.cmake)

# Built with all, so that they keep up with the rooms.
add_executable(rooms_bench bench/rooms_bench.cpp)
target_link_libraries(rooms_bench PRIVATE gw_job gw_ink gw_solid gw_warnings benchmark::benchmark)
target_compile_definitions(rooms_bench PRIVATE GW_SOURCE_DIR="${PROJECT_SOURCE_DIR}" GW_DRAWING_FONT="${OSIFONT}")
add_executable(drive_bench bench/drive_bench.cpp)
target_link_libraries(drive_bench PRIVATE gw_drive gw_warnings GTest::gtest benchmark::benchmark)
add_executable(removal_bench bench/removal_bench.cpp)
target_link_libraries(removal_bench PRIVATE gw_removal gw_warnings benchmark::benchmark)
target_include_directories(removal_bench PRIVATE ${CMAKE_CURRENT_SOURCE_DIR})
add_executable(program_bench bench/program_bench.cpp)
target_link_libraries(program_bench PRIVATE gw_job gw_warnings benchmark::benchmark)
target_compile_definitions(program_bench PRIVATE GW_SOURCE_DIR="${PROJECT_SOURCE_DIR}")
add_executable(whole_process bench/whole_process.cpp)
target_link_libraries(whole_process PRIVATE gw_warnings)
target_compile_definitions(whole_process PRIVATE GW_SOURCE_DIR="${PROJECT_SOURCE_DIR}")
set_target_properties(rooms_bench drive_bench removal_bench program_bench whole_process bare_kernel
                      PROPERTIES RUNTIME_OUTPUT_DIRECTORY ${PROJECT_BINARY_DIR}/tests)

# Stages inside one process, then whole processes in pairs against the bare kernel.
add_custom_target(bench
  COMMAND rooms_bench --benchmark_min_time=0.2
  COMMAND drive_bench --benchmark_min_time=0.2
  COMMAND removal_bench --benchmark_min_time=0.2
  COMMAND program_bench --benchmark_min_time=0.2
  COMMAND whole_process $<TARGET_FILE:groovewright> $<TARGET_FILE:bare_kernel> ${PROJECT_BINARY_DIR}/bench
  DEPENDS rooms_bench drive_bench removal_bench program_bench whole_process bare_kernel groovewright groovewright_kernel groovewright_pdf
  USES_TERMINAL)
