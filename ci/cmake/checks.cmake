# What hangs on the whole tree rather than on one layer: headers that compile alone, the house test,
# benchmarks and the contact sheet. Included last, when every layer is known.

find_program(KP_NODE node REQUIRED)

# One source a header, which includes nothing else. Only where everything is built natively.
if(NOT EMSCRIPTEN AND NOT KP_ONLY)
  file(GLOB_RECURSE kp_headers RELATIVE "${CMAKE_SOURCE_DIR}/src" CONFIGURE_DEPENDS
    "${CMAKE_SOURCE_DIR}/src/*.hpp")
  list(FILTER kp_headers EXCLUDE REGEX "^platform/web/")
  set(kp_header_sources "")
  foreach(header ${kp_headers})
    string(REPLACE "/" "_" name "${header}")
    set(source "${CMAKE_BINARY_DIR}/headers/${name}.cpp")
    file(CONFIGURE OUTPUT "${source}" CONTENT "#include \"${header}\"\n")
    list(APPEND kp_header_sources "${source}")
  endforeach()
  add_library(headers OBJECT ${kp_header_sources})
  target_link_libraries(headers PRIVATE kp_flags
    third_imgui third_pugixml third_haru third_sodium)
  target_compile_options(headers PRIVATE -g0)

  add_test(NAME house COMMAND "${KP_NODE}" "${CMAKE_SOURCE_DIR}/tests/house/house.mjs"
    --root "${CMAKE_SOURCE_DIR}" --built "${CMAKE_BINARY_DIR}/compile_commands.json")
  add_test(NAME house_finds COMMAND "${KP_NODE}" "${CMAKE_SOURCE_DIR}/tests/house/house_test.mjs")
  add_test(NAME house_counts COMMAND "${KP_NODE}" "${CMAKE_SOURCE_DIR}/tests/house/tally_test.mjs")
endif()

# tests/bench/<name>.cpp or <name>_bench.cpp is the program bench_<name>. It prints JSON, one line a
# figure, and is no test: figures are looked at, not asserted. The preset release is meant for them.
if(NOT KP_ONLY)
  file(GLOB kp_benches CONFIGURE_DEPENDS "${CMAKE_SOURCE_DIR}/tests/bench/*.cpp")
  foreach(source ${kp_benches})
    get_filename_component(name "${source}" NAME_WE)
    string(REGEX REPLACE "_bench$" "" name "${name}")
    add_executable(bench_${name} ${source})
    foreach(layer base geom data port pack circuit plan find physics safety scene bill journal job practice app memory)
      if(TARGET kp_${layer})
        target_link_libraries(bench_${name} PRIVATE kp_${layer})
      endif()
    endforeach()
    target_include_directories(bench_${name} PRIVATE "${CMAKE_SOURCE_DIR}/tests")
    target_compile_definitions(bench_${name} PRIVATE
      KP_SOURCE_DIR="${CMAKE_SOURCE_DIR}" KP_SHARED_DATA="${KP_SHARED_DATA}")
    if(TARGET third_ngspice AND name STREQUAL "circuit")
      target_link_libraries(bench_${name} PRIVATE third_ngspice)
    endif()
    if(EMSCRIPTEN)
      set_target_properties(bench_${name} PROPERTIES EXCLUDE_FROM_ALL ON)
      kp_test_link(bench_${name})
    endif()
  endforeach()
endif()

# The contact sheet: a page of the site with every drawing of assets/parts.
if(EMSCRIPTEN)
  file(GLOB kp_drawings CONFIGURE_DEPENDS "${CMAKE_SOURCE_DIR}/assets/parts/*.svg")
  set(kp_site "${CMAKE_BINARY_DIR}/site")
  add_custom_command(OUTPUT "${kp_site}/sheet.html"
    BYPRODUCTS "${kp_site}/sheet.css" "${kp_site}/sheet-regular.otf" "${kp_site}/sheet-bold.otf"
    COMMAND "${CMAKE_COMMAND}" -E make_directory "${kp_site}"
    COMMAND hb-subset "${KP_FONTS}/B612-Regular.otf" --unicodes=20-7E,D7,B7 --no-hinting
      "--output-file=${kp_site}/sheet-regular.otf"
    COMMAND hb-subset "${KP_FONTS}/B612-Bold.otf" --unicodes=20-7E,D7,B7 --no-hinting
      "--output-file=${kp_site}/sheet-bold.otf"
    COMMAND "${KP_NODE}" "${CMAKE_SOURCE_DIR}/web/sheet.mjs"
      --parts "${CMAKE_SOURCE_DIR}/assets/parts" --out "${kp_site}"
    DEPENDS "${CMAKE_SOURCE_DIR}/web/sheet.mjs" ${kp_drawings}
    COMMENT "Contact sheet of the part drawings" VERBATIM)
  add_custom_target(contact_sheet ALL DEPENDS "${kp_site}/sheet.html")
  if(TARGET site)
    add_dependencies(site contact_sheet)
  endif()
  # A plain build leaves what the browser tests open; `pages` is that alone.
  add_custom_target(pages)
  foreach(folder site gallery)
    if(TARGET ${folder})
      set_target_properties(${folder} PROPERTIES EXCLUDE_FROM_ALL FALSE)
    endif()
  endforeach()
  foreach(page site gallery contact_sheet store_page)
    if(TARGET ${page})
      add_dependencies(pages ${page})
    endif()
  endforeach()
endif()
