# The stores that last. Each is a library of its own, apart from the rest of its platform, so that
# its tests need no window and no page. kp_layer leaves their sources out.

set(stores "${CMAKE_SOURCE_DIR}/src/platform")

if(NOT EMSCRIPTEN)
  find_path(KP_SQLITE_INCLUDE sqlite3.h REQUIRED)
  find_library(KP_SQLITE_LIBRARY sqlite3 REQUIRED)
  add_library(kp_sqlite_store STATIC "${stores}/native/sqlite_store.cpp")
  target_link_libraries(kp_sqlite_store PUBLIC kp_port "${KP_SQLITE_LIBRARY}" PRIVATE kp_no_exceptions)
  if(NOT KP_SQLITE_INCLUDE STREQUAL "/usr/include")
    target_include_directories(kp_sqlite_store SYSTEM PRIVATE "${KP_SQLITE_INCLUDE}")
  endif()
  if(NOT KP_ONLY OR "sqlite" IN_LIST KP_ONLY)
    add_executable(test_sqlite_store "${CMAKE_SOURCE_DIR}/tests/platform/native/sqlite_store_test.cpp")
    target_link_libraries(test_sqlite_store PRIVATE kp_sqlite_store kp_journal kp_test_main)
    target_include_directories(test_sqlite_store PRIVATE "${CMAKE_SOURCE_DIR}/tests")
    add_test(NAME sqlite_store COMMAND test_sqlite_store)
  endif()
endif()

if(EMSCRIPTEN)
  # Whoever links the store gets its page side with it.
  add_library(kp_indexeddb_store STATIC "${stores}/web/indexeddb_store.cpp")
  target_link_libraries(kp_indexeddb_store PUBLIC kp_port PRIVATE kp_no_exceptions)
  foreach(script database copy writers news store)
    target_link_options(kp_indexeddb_store INTERFACE
      "SHELL:--js-library ${CMAKE_SOURCE_DIR}/web/${script}.js")
    set_property(TARGET kp_indexeddb_store APPEND PROPERTY INTERFACE_LINK_DEPENDS
      "${CMAKE_SOURCE_DIR}/web/${script}.js")
  endforeach()

  # The page of the tests/web/store_*_test.mjs. It starts with little memory, so that memory
  # grows, and moves, while the store works.
  if(NOT KP_ONLY OR "indexeddb" IN_LIST KP_ONLY)
    add_executable(store_page "${CMAKE_SOURCE_DIR}/tests/web/store_page.cpp")
    target_link_libraries(store_page PRIVATE kp_indexeddb_store kp_journal)
    target_link_libraries(store_page PRIVATE kp_no_exceptions)
    target_include_directories(store_page PRIVATE "${CMAKE_SOURCE_DIR}/tests")
    target_link_options(store_page PRIVATE -sENVIRONMENT=web -sFILESYSTEM=0 -sDYNAMIC_EXECUTION=0
      -sALLOW_MEMORY_GROWTH=1 -sINITIAL_MEMORY=2097152 -sTOTAL_STACK=1048576 -sASSERTIONS=1
      "-sEXPORTED_FUNCTIONS=_main,_store_page_go_on,_store_page_write,_store_page_write_on,_store_page_take_over,_store_page_look,_store_page_sign")
    set_target_properties(store_page PROPERTIES
      RUNTIME_OUTPUT_DIRECTORY "${CMAKE_BINARY_DIR}/store_page")
  endif()
endif()
