# One static library and one test program a layer. The sources come by glob from src/<layer>, the
# tests from tests/<layer>; a layer that has sources and no tests stops the configure step.

add_library(kp_flags INTERFACE)
target_compile_features(kp_flags INTERFACE cxx_std_20)
target_compile_options(kp_flags INTERFACE
  -ffp-contract=off -Werror -Wall -Wextra -Wpedantic -Wconversion -Wsign-conversion -Wshadow
  -Wnon-virtual-dtor -Woverloaded-virtual -Wold-style-cast -Wcast-align -Wformat=2
  -Wimplicit-fallthrough -Wdouble-promotion -Wundef)
if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU")
  target_compile_options(kp_flags INTERFACE
    -Wlogical-op -Wduplicated-cond -Wduplicated-branches -Wuseless-cast -fstack-protector-strong
    # g++ 12 sees overlaps that are not there in optimised std::string (its bug 105651).
    $<$<NOT:$<CONFIG:Debug>>:-Wno-restrict>)
  target_compile_definitions(kp_flags INTERFACE $<$<CONFIG:Debug>:_GLIBCXX_ASSERTIONS>)
endif()
target_include_directories(kp_flags INTERFACE "${CMAKE_SOURCE_DIR}/src")
target_link_libraries(kp_flags INTERFACE third_headers)

add_library(kp_no_exceptions INTERFACE)
target_compile_options(kp_no_exceptions INTERFACE -fno-exceptions)

set(KP_ONLY "" CACHE STRING "Only these layers (and what they need) get test programs; empty: all")

# kp_layer(NAME DEPENDS layer... THIRD target... [EXCEPTIONS])
function(kp_layer name)
  cmake_parse_arguments(L "EXCEPTIONS" "FOLDER" "DEPENDS;THIRD" ${ARGN})
  set(folder "${name}")
  if(L_FOLDER)
    set(folder "${L_FOLDER}")
  endif()
  file(GLOB sources CONFIGURE_DEPENDS "${CMAKE_SOURCE_DIR}/src/${folder}/*.cpp")
  list(FILTER sources EXCLUDE REGEX "/(main|sqlite_store|indexeddb_store)\\.cpp$")
  file(GLOB headers CONFIGURE_DEPENDS "${CMAKE_SOURCE_DIR}/src/${folder}/*.hpp")
  if(NOT sources AND NOT headers)
    message(STATUS "kp_layer ${name}: no sources yet")
    return()
  endif()
  if(sources)
    add_library(kp_${name} STATIC ${sources})
    set(how PUBLIC)
    target_link_libraries(kp_${name} PUBLIC kp_flags)
    if(NOT L_EXCEPTIONS)
      target_link_libraries(kp_${name} PRIVATE kp_no_exceptions)
    endif()
  else()
    add_library(kp_${name} INTERFACE)
    set(how INTERFACE)
    target_link_libraries(kp_${name} INTERFACE kp_flags)
  endif()
  foreach(other ${L_DEPENDS})
    if(TARGET kp_${other})
      target_link_libraries(kp_${name} ${how} kp_${other})
    endif()
  endforeach()
  target_link_libraries(kp_${name} ${how} ${L_THIRD})
  foreach(header ${headers})
    file(RELATIVE_PATH spoken "${CMAKE_SOURCE_DIR}/src" "${header}")
    set_property(GLOBAL APPEND PROPERTY KP_HEADER_LIST "${spoken}")
  endforeach()
  kp_layer_tests(${name} ${folder})
endfunction()

# kp_layer_tests(NAME FOLDER [LAYER]): the tests of that folder as one program; LAYER where they are not
# those of the layer of that name.
function(kp_layer_tests name folder)
  set(layer "${name}")
  if(ARGC GREATER 2)
    set(layer "${ARGV2}")
  endif()
  file(GLOB tests CONFIGURE_DEPENDS "${CMAKE_SOURCE_DIR}/tests/${folder}/*_test.cpp")
  list(FILTER tests EXCLUDE REGEX "/sqlite_store_test\\.cpp$")
  if(NOT tests)
    if(sources AND NOT KP_ONLY)
      message(FATAL_ERROR "src/${folder} has no tests in tests/${folder}")
    endif()
    return()
  endif()
  if(KP_ONLY AND NOT name IN_LIST KP_ONLY)
    return()
  endif()
  add_executable(test_${name} ${tests})
  target_link_libraries(test_${name} PRIVATE kp_${layer} kp_test_main)
  target_include_directories(test_${name} PRIVATE "${CMAKE_SOURCE_DIR}/tests")
  target_compile_definitions(test_${name} PRIVATE
    KP_SOURCE_DIR="${CMAKE_SOURCE_DIR}" KP_SHARED_DATA="${KP_SHARED_DATA}")
  kp_test_link(test_${name})
  add_test(NAME ${name} COMMAND test_${name})
endfunction()

# What a test program needs to run under Node with a view of the real file system. It is built once
# and run once, so that nothing is gained by making it small or fast: its own files take -O0, which
# halves their time in the compiler; the rooms in it are those of the site.
function(kp_test_link target)
  if(EMSCRIPTEN)
    target_compile_options(${target} PRIVATE -O0)
    target_link_options(${target} PRIVATE -O1)
    target_link_options(${target} PRIVATE -sENVIRONMENT=node -sEXIT_RUNTIME=1 -sASSERTIONS=1
      -sALLOW_MEMORY_GROWTH=1 -sTOTAL_STACK=1048576 -sNODERAWFS=1)
  endif()
endfunction()
