# tests/fuzz: laws that hold for any bytes. Everywhere they are replayed over the corpus, as a test.
# With KP_FUZZ, which needs clang, tests/fuzz/<name>_fuzz.cpp is the program fuzz_<name>:
#   cmake --preset fuzz && cmake --build --preset fuzz
#   build/fuzz/fuzz_json -max_total_time=60 build/fuzz/found tests/fuzz/corpus/json

option(KP_FUZZ "Build the fuzz targets (clang only)" OFF)

if(TARGET kp_pack AND TARGET kp_scene AND (NOT KP_ONLY OR "fuzz" IN_LIST KP_ONLY))
  add_executable(test_fuzz "${CMAKE_SOURCE_DIR}/tests/fuzz/pack_replay_test.cpp"
    "${CMAKE_SOURCE_DIR}/tests/fuzz/drawing_replay_test.cpp")
  target_link_libraries(test_fuzz PRIVATE kp_pack kp_scene kp_test_main)
  target_include_directories(test_fuzz PRIVATE "${CMAKE_SOURCE_DIR}/tests")
  target_compile_definitions(test_fuzz PRIVATE KP_SOURCE_DIR="${CMAKE_SOURCE_DIR}")
  kp_test_link(test_fuzz)
  add_test(NAME fuzz COMMAND test_fuzz)
endif()

if(KP_FUZZ AND NOT EMSCRIPTEN)
  foreach(pair "json:kp_journal" "journal:kp_journal" "pack:kp_pack" "drawing:kp_scene")
    string(REPLACE ":" ";" pair "${pair}")
    list(GET pair 0 name)
    list(GET pair 1 library)
    add_executable(fuzz_${name} "${CMAKE_SOURCE_DIR}/tests/fuzz/${name}_fuzz.cpp")
    target_link_libraries(fuzz_${name} PRIVATE ${library} kp_no_exceptions)
    target_include_directories(fuzz_${name} PRIVATE "${CMAKE_SOURCE_DIR}/tests")
    target_link_options(fuzz_${name} PRIVATE -fsanitize=fuzzer)
  endforeach()
endif()
