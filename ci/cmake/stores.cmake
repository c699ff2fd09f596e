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
