# The programs with a screen: kickplate (native) and kickplate_web with its site.

file(GLOB kp_page_scripts CONFIGURE_DEPENDS "${CMAKE_SOURCE_DIR}/web/*.js")

if(EMSCRIPTEN)
  file(GLOB kp_web_sources CONFIGURE_DEPENDS "${CMAKE_SOURCE_DIR}/src/platform/web/*.cpp")
  list(FILTER kp_web_sources EXCLUDE REGEX "/main\\.cpp$|/indexeddb_store")
  add_library(kp_page STATIC ${kp_web_sources})
  target_link_libraries(kp_page PUBLIC kp_ui kp_app kp_memory kp_indexeddb_store kp_flags PRIVATE kp_no_exceptions)
  function(kp_page_link target)
    target_link_options(${target} PRIVATE -Oz --no-entry -sENVIRONMENT=web -sFILESYSTEM=0 -sEXIT_RUNTIME=0
      -sMIN_WEBGL_VERSION=2 -sMAX_WEBGL_VERSION=2 -sALLOW_MEMORY_GROWTH=1 -sINITIAL_MEMORY=16777216
      -sMAXIMUM_MEMORY=134217728 -sTOTAL_STACK=1048576 -sDYNAMIC_EXECUTION=0 -sINCOMING_MODULE_JS_API=locateFile,onRuntimeInitialized,onAbort,print,printErr
      -sEXPORTED_RUNTIME_METHODS=ccall,HEAPU8 -sEXPORTED_FUNCTIONS=_malloc,_free -sASSERTIONS=0)
    target_link_options(${target} PRIVATE "SHELL:--js-library ${CMAKE_SOURCE_DIR}/web/bridge.js")
    set_property(TARGET ${target} APPEND PROPERTY LINK_DEPENDS "${CMAKE_SOURCE_DIR}/web/bridge.js")
    set_target_properties(${target} PROPERTIES OUTPUT_NAME kickplate SUFFIX .js
      RUNTIME_OUTPUT_DIRECTORY "${CMAKE_BINARY_DIR}/pages/${target}")
  endfunction()

  # A folder of static files around a linked page: <build>/<folder>.
  function(kp_site target page folder)
    file(GLOB_RECURSE assets CONFIGURE_DEPENDS "${CMAKE_SOURCE_DIR}/assets/*")
    add_custom_command(OUTPUT "${CMAKE_BINARY_DIR}/${folder}.stamp"
      COMMAND "${KP_NODE}" "${CMAKE_SOURCE_DIR}/web/site.mjs" --source "${CMAKE_SOURCE_DIR}"
        --program "${CMAKE_BINARY_DIR}/pages/${page}" --out "${CMAKE_BINARY_DIR}/${folder}"
      COMMAND "${CMAKE_COMMAND}" -E touch "${CMAKE_BINARY_DIR}/${folder}.stamp"
      DEPENDS ${page} ${kp_page_scripts} ${assets} "${CMAKE_SOURCE_DIR}/web/site.mjs"
        "${CMAKE_SOURCE_DIR}/web/index.html" "${CMAKE_SOURCE_DIR}/web/style.css"
        "${CMAKE_SOURCE_DIR}/web/manifest.webmanifest" "${CMAKE_SOURCE_DIR}/web/icon.svg"
      COMMENT "The folder of static files: ${folder}" VERBATIM)
    add_custom_target(${target} DEPENDS "${CMAKE_BINARY_DIR}/${folder}.stamp")
  endfunction()

  find_program(KP_NODE node REQUIRED)
  add_executable(kickplate_web src/platform/web/main.cpp)
  target_link_libraries(kickplate_web PRIVATE kp_page kp_no_exceptions)
  kp_page_link(kickplate_web)
  kp_site(site kickplate_web site)

  # Made-up screens as a page, for the browser tests; never shipped.
  add_executable(gallery_page tests/ui/gallery/main.cpp tests/ui/gallery/screens.cpp)
  target_include_directories(gallery_page PRIVATE "${CMAKE_SOURCE_DIR}/tests")
  target_link_libraries(gallery_page PRIVATE kp_page kp_no_exceptions)
  kp_page_link(gallery_page)
  kp_site(gallery gallery_page gallery)
else()
  find_package(glfw3 3.3 REQUIRED)
  find_package(OpenGL REQUIRED COMPONENTS OpenGL)
  file(GLOB kp_native_sources CONFIGURE_DEPENDS "${CMAKE_SOURCE_DIR}/src/platform/native/*.cpp")
  list(FILTER kp_native_sources EXCLUDE REGEX "/main\\.cpp$|/sqlite_store")
  add_library(kp_window STATIC ${kp_native_sources})
  target_link_libraries(kp_window PUBLIC kp_ui kp_app kp_cli kp_memory kp_sqlite_store kp_flags glfw OpenGL::OpenGL)
  add_executable(kickplate src/platform/native/main.cpp)
  target_link_libraries(kickplate PRIVATE kp_window)
  target_compile_definitions(kickplate PRIVATE KP_ASSETS="${CMAKE_SOURCE_DIR}/assets")
endif()

if(TARGET test_ui)
  target_sources(test_ui PRIVATE "${CMAKE_SOURCE_DIR}/tests/ui/gallery/screens.cpp")
endif()
