find_package(Freetype REQUIRED)
find_package(ZLIB REQUIRED)
find_package(nlohmann_json REQUIRED)
gw_test(ink_test ROOMS ink catalog plane SOURCES ink_test.cpp)

gw_test(pdf_loader_test ROOMS cli ink catalog plane SOURCES pdf_loader_test.cpp)
target_include_directories(pdf_loader_test PRIVATE ${PROJECT_SOURCE_DIR}/src/cli)
add_dependencies(pdf_loader_test groovewright_pdf)
# It looks for the module beside itself, as the program does.
set_target_properties(pdf_loader_test PROPERTIES RUNTIME_OUTPUT_DIRECTORY ${PROJECT_BINARY_DIR})

# The widths held against the font itself.
gw_test(typeface_test ROOMS catalog SOURCES typeface_test.cpp LIBS Freetype::Freetype)
target_compile_definitions(typeface_test PRIVATE GW_DRAWING_FONT="${OSIFONT}")

gw_test(ink_reader_test ROOMS ink catalog plane SOURCES readers/ink_reader_test.cpp LIBS ZLIB::ZLIB nlohmann_json::nlohmann_json)
target_compile_definitions(ink_reader_test PRIVATE GW_DRAWING_FONT="${OSIFONT}")
