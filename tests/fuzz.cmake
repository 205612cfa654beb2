# CXX=clang++-16 cmake -S . -B build-fuzz -DGROOVEWRIGHT_FUZZ=ON && cmake --build build-fuzz --target document_fuzz
# build-fuzz/tests/document_fuzz -max_total_time=600 -max_len=8192 found/ tests/corpus/bad tests/corpus/bad_drives \
#   tests/corpus/poor_drives profiles/demo
option(GROOVEWRIGHT_FUZZ "Build the fuzzers (needs clang with libFuzzer)" OFF)
if(GROOVEWRIGHT_FUZZ)
  add_executable(document_fuzz fuzz/document_fuzz.cpp)
  target_link_libraries(document_fuzz PRIVATE gw_job gw_warnings)
  target_link_options(document_fuzz PRIVATE -fsanitize=fuzzer,address,undefined)
  set_target_properties(document_fuzz PROPERTIES RUNTIME_OUTPUT_DIRECTORY ${PROJECT_BINARY_DIR}/tests)
  foreach(room IN ITEMS base plane yaml catalog spec part drive section gauge mesh print drawing solid report job)
    target_compile_options(gw_${room} PRIVATE -fsanitize=fuzzer-no-link,address,undefined)
  endforeach()
  target_compile_options(document_fuzz PRIVATE -fsanitize=fuzzer,address,undefined)
endif()
