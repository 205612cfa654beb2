# cmake -DROOT=folder "-DFILES=a.yaml;b/c.yaml" -DOUT=file.cpp -P embed.cmake: the files' texts as one C++ source.
# A literal is closed and opened again every few kilobytes: compilers limit the length of one.
set(limit 8000)

function(append_literals text)
  string(LENGTH "${text}" left)
  while(left GREATER limit)
    string(SUBSTRING "${text}" 0 ${limit} head)
    string(FIND "${head}" "\n" cut REVERSE)
    if(cut LESS 0)
      message(FATAL_ERROR "embed.cmake: a line longer than ${limit} bytes")
    endif()
    math(EXPR cut "${cut} + 1")
    string(SUBSTRING "${text}" 0 ${cut} head)
    string(SUBSTRING "${text}" ${cut} -1 text)
    file(APPEND ${OUT}.new "R\"yaml(${head})yaml\"\n")
    string(LENGTH "${text}" left)
  endwhile()
  file(APPEND ${OUT}.new "R\"yaml(${text})yaml\"")
endfunction()

file(WRITE ${OUT}.new "// Made by embed.cmake from profiles/.
#include \"groovewright/catalog.h\"

namespace groovewright::catalog {

std::span<const TextFile> built_in_files() {
  static const TextFile files[] = {
")
foreach(name IN LISTS FILES)
  file(READ ${ROOT}/${name} text)
  file(APPEND ${OUT}.new "{\"${name}\",\n")
  append_literals("${text}")
  file(APPEND ${OUT}.new "},\n")
endforeach()
file(APPEND ${OUT}.new "  };
  return files;
}

}  // namespace groovewright::catalog
")
file(RENAME ${OUT}.new ${OUT})
