# The faces of the screen, cut down and embedded. Target: kp_fonts.

set(KP_FONTS "/usr/share/fonts/opentype/b612" CACHE PATH "Folder with the B612 OpenType files")
if(NOT EXISTS "${KP_FONTS}/B612-Regular.otf")
  message(FATAL_ERROR "${KP_FONTS}/B612-Regular.otf is missing. Run ci/setup, or set KP_FONTS.")
endif()

file(GLOB_RECURSE kp_font_content CONFIGURE_DEPENDS
  "${CMAKE_SOURCE_DIR}/assets/packs/*.json" "${CMAKE_SOURCE_DIR}/assets/strings/*.json"
  "${CMAKE_SOURCE_DIR}/assets/demo/*.json" "${CMAKE_SOURCE_DIR}/src/app/*.cpp"
  "${CMAKE_SOURCE_DIR}/src/job/*.cpp" "${CMAKE_SOURCE_DIR}/src/safety/*.cpp"
  "${CMAKE_SOURCE_DIR}/src/practice/*.cpp" "${CMAKE_SOURCE_DIR}/src/ui/*.cpp")
set(kp_font_source "${CMAKE_BINARY_DIR}/fonts/font_files.cpp")
file(MAKE_DIRECTORY "${CMAKE_BINARY_DIR}/fonts")
add_custom_command(OUTPUT "${kp_font_source}.stamp"
  BYPRODUCTS "${kp_font_source}"
  COMMAND "${CMAKE_SOURCE_DIR}/ci/cmake/subset_fonts.sh" "${KP_FONTS}" "${kp_font_source}" ${kp_font_content}
  COMMAND "${CMAKE_COMMAND}" -E touch "${kp_font_source}.stamp"
  DEPENDS "${CMAKE_SOURCE_DIR}/ci/cmake/subset_fonts.sh" ${kp_font_content}
  COMMENT "Cutting the fonts to the content" VERBATIM)
add_custom_target(kp_font_files DEPENDS "${kp_font_source}.stamp")
set_source_files_properties("${kp_font_source}" PROPERTIES GENERATED TRUE)
add_library(kp_fonts STATIC "${kp_font_source}")
add_dependencies(kp_fonts kp_font_files)
target_link_libraries(kp_fonts PRIVATE kp_flags)
