find_package(ZLIB REQUIRED)
add_executable(gw_picture tools/picture.cpp tools/picture_shade.cpp tools/picture_section.cpp)
target_link_libraries(gw_picture PRIVATE gw_job gw_gauge gw_warnings ZLIB::ZLIB)

# The README's pictures, drawn anew: cmake --build build --target pictures
set(shown larkspur-crank-24)
set(shown_spec ${PROJECT_SOURCE_DIR}/profiles/demo/${shown}.yaml)
set(shown_drive ${PROJECT_SOURCE_DIR}/profiles/demo/larkspur-front.yaml)
set(shown_folder ${CMAKE_CURRENT_BINARY_DIR}/pictures)
set(pictures ${PROJECT_SOURCE_DIR}/profiles/demo/pictures)
add_custom_target(pictures
  COMMAND groovewright build ${shown_spec} --only stl,drawing --out ${shown_folder} --quiet
  COMMAND pdftoppm -r 80 -gray -singlefile -png ${shown_folder}/${shown}/${shown}.drawing.pdf ${pictures}/${shown}-drawing
  COMMAND gw_picture shade ${shown_folder}/${shown}/${shown}.stl ${pictures}/${shown}.png
  COMMAND groovewright build ${shown_spec} --only print --printer large-300 --out ${shown_folder}/print --quiet
  COMMAND gw_picture shade ${shown_folder}/print/${shown}/${shown}.print.stl ${pictures}/${shown}-print.png
          --azimuth 20 --elevation 40
  COMMAND gw_picture section ${shown_spec} ${pictures}/${shown}-section.svg
  # A drive with a verdict ends in status 1.
  COMMAND sh -c "$<TARGET_FILE:groovewright> drive ${shown_drive} --out ${shown_folder} --quiet || test $? -eq 1"
  COMMAND ${CMAKE_COMMAND} -E copy ${shown_folder}/larkspur-front/larkspur-front.layout.svg
          ${pictures}/larkspur-front-layout.svg
  COMMENT "Drawing profiles/demo/pictures"
  VERBATIM)
