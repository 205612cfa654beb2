gw_test(mesh_test ROOMS mesh plane SOURCES mesh_test.cpp LIBS rapidcheck)
target_include_directories(mesh_test PRIVATE ${PROJECT_SOURCE_DIR}/src/mesh) # its triangulate.h

# Each format read by a program that no one here wrote.
gw_test(stl_reader_test ROOMS mesh plane SOURCES readers/stl_reader_test.cpp)
gw_test(glb_reader_test ROOMS mesh plane SOURCES readers/glb_reader_test.cpp)

find_path(LIB3MF_INCLUDE Model/COM/NMR_DLLInterfaces.h PATH_SUFFIXES lib3mf REQUIRED)
find_library(LIB3MF 3MF REQUIRED)
add_library(gw_lib3mf INTERFACE)
target_include_directories(gw_lib3mf SYSTEM INTERFACE ${LIB3MF_INCLUDE})
target_link_libraries(gw_lib3mf INTERFACE ${LIB3MF})
gw_test(three_mf_reader_test ROOMS mesh plane SOURCES readers/three_mf_reader_test.cpp LIBS gw_lib3mf)
