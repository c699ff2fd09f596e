# Libraries that arrive as sources (ci/setup puts them below KP_THIRD) and headers of Debian's
# -dev packages. All of it is built without our warnings; none of it is copied into the project.

set(KP_THIRD "${CMAKE_SOURCE_DIR}/build/third" CACHE PATH "Folder with imgui, libharu, libsodium, pugixml sources")
foreach(name imgui libharu libsodium pugixml)
  if(NOT EXISTS "${KP_THIRD}/${name}")
    message(FATAL_ERROR "${KP_THIRD}/${name} is missing. Run ci/setup, or set KP_THIRD to a folder that holds the sources of ${name}.")
  endif()
endforeach()

# The whole of /usr/include would poison a cross build, so the wanted folders are linked into one.
set(KP_HEADERS "${CMAKE_BINARY_DIR}/third-include")
set(KP_HEADER_ROOT "/usr/include" CACHE PATH "Where doctest, tl, glm and rapidjson headers live")
file(MAKE_DIRECTORY "${KP_HEADERS}")
foreach(name doctest tl glm rapidjson CLI)
  if(NOT EXISTS "${KP_HEADER_ROOT}/${name}")
    message(FATAL_ERROR "${KP_HEADER_ROOT}/${name} is missing. Run ci/setup, or set KP_HEADER_ROOT.")
  endif()
  if(NOT EXISTS "${KP_HEADERS}/${name}")
    file(CREATE_LINK "${KP_HEADER_ROOT}/${name}" "${KP_HEADERS}/${name}" SYMBOLIC)
  endif()
endforeach()
# Eigen stands in a folder of its own there.
set(KP_EIGEN_ROOT "${KP_HEADER_ROOT}/eigen3" CACHE PATH "Where the folder Eigen of the linear algebra library lives")
if(NOT EXISTS "${KP_EIGEN_ROOT}/Eigen/Dense")
  message(FATAL_ERROR "${KP_EIGEN_ROOT}/Eigen is missing. Run ci/setup, or set KP_EIGEN_ROOT.")
endif()
if(NOT EXISTS "${KP_HEADERS}/Eigen")
  file(CREATE_LINK "${KP_EIGEN_ROOT}/Eigen" "${KP_HEADERS}/Eigen" SYMBOLIC)
endif()
add_library(third_headers INTERFACE)
target_include_directories(third_headers SYSTEM INTERFACE "${KP_HEADERS}")
target_compile_definitions(third_headers INTERFACE
  GLM_FORCE_XYZW_ONLY GLM_FORCE_EXPLICIT_CTOR RAPIDJSON_HAS_STDSTRING=1)

function(kp_third name)
  target_compile_options(${name} PRIVATE -w)
  if(EMSCRIPTEN)
    target_compile_options(${name} PRIVATE -Oz)
  else()
    target_compile_options(${name} PRIVATE -O2)
  endif()
endfunction()

# SHA-256 from libsodium: only the file that it needs. The one helper that this file calls, to wipe
# memory, lives in a part of the library that pulls in the rest of it, so sodium_wipe.c stands in.
set(sodium "${KP_THIRD}/libsodium/src/libsodium")
add_library(third_sodium STATIC
  "${sodium}/crypto_hash/sha256/cp/hash_sha256_cp.c"
  "${CMAKE_CURRENT_LIST_DIR}/sodium_wipe.c")
target_include_directories(third_sodium SYSTEM PUBLIC "${sodium}/include" PRIVATE "${sodium}/include/sodium")
target_compile_definitions(third_sodium PUBLIC SODIUM_STATIC=1 PRIVATE CONFIGURED=1)
kp_third(third_sodium)

add_library(third_pugixml STATIC "${KP_THIRD}/pugixml/src/pugixml.cpp")
target_include_directories(third_pugixml SYSTEM PUBLIC "${KP_THIRD}/pugixml/src")
target_compile_definitions(third_pugixml PUBLIC PUGIXML_NO_EXCEPTIONS PUGIXML_NO_XPATH PUGIXML_NO_STL)
kp_third(third_pugixml)

# PDF from libharu, without zlib and png: pages are written uncompressed. The tables of Chinese,
# Japanese and Korean fonts (two megabytes) stay out.
file(GLOB haru_sources "${KP_THIRD}/libharu/src/*.c")
list(FILTER haru_sources EXCLUDE REGEX "hpdf_(fontdef|encoder)_(cns|cnt|jp|kr)|hpdf_(doc|image)_png|hpdf_pdfa")
file(WRITE "${CMAKE_BINARY_DIR}/third-haru/hpdf_config.h.new"
  "#define LIBHPDF_HAVE_NOPNGLIB 1\n#define LIBHPDF_HAVE_NOZLIB 1\n#define LIBHPDF_STDC_HEADERS 1\n#define HPDF_NOPNGLIB 1\n#define HPDF_NOZLIB 1\n")
configure_file("${CMAKE_BINARY_DIR}/third-haru/hpdf_config.h.new" "${CMAKE_BINARY_DIR}/third-haru/hpdf_config.h" COPYONLY)
add_library(third_haru STATIC ${haru_sources})
target_include_directories(third_haru SYSTEM PUBLIC "${KP_THIRD}/libharu/include" "${CMAKE_BINARY_DIR}/third-haru")
if(NOT EMSCRIPTEN)
  target_link_libraries(third_haru PUBLIC m)
endif()
kp_third(third_haru)

set(imgui "${KP_THIRD}/imgui")
add_library(third_imgui STATIC "${imgui}/imgui.cpp" "${imgui}/imgui_draw.cpp"
  "${imgui}/imgui_tables.cpp" "${imgui}/imgui_widgets.cpp" "${imgui}/backends/imgui_impl_opengl3.cpp")
target_include_directories(third_imgui SYSTEM PUBLIC "${imgui}" "${imgui}/backends")
target_compile_definitions(third_imgui PUBLIC IMGUI_DISABLE_OBSOLETE_FUNCTIONS IMGUI_DISABLE_DEMO_WINDOWS
  ImDrawIdx=unsigned IMGUI_DISABLE_METRICS_WINDOW IMGUI_DISABLE_FILE_FUNCTIONS IMGUI_DISABLE_DEFAULT_SHELL_FUNCTIONS)
if(EMSCRIPTEN)
  target_compile_definitions(third_imgui PUBLIC IMGUI_IMPL_OPENGL_ES3)
else()
  target_link_libraries(third_imgui PUBLIC ${CMAKE_DL_LIBS})
endif()
kp_third(third_imgui)

# The reference simulator that the circuit solver is held against, as a library inside the test
# program; only natively, and only where it is installed.
set(KP_NGSPICE OFF)
if(NOT EMSCRIPTEN)
  find_library(KP_NGSPICE_LIBRARY ngspice)
  find_path(KP_NGSPICE_INCLUDE ngspice/sharedspice.h)
  if(KP_NGSPICE_LIBRARY AND KP_NGSPICE_INCLUDE)
    set(KP_NGSPICE ON)
    add_library(third_ngspice INTERFACE)
    target_link_libraries(third_ngspice INTERFACE "${KP_NGSPICE_LIBRARY}")
    target_include_directories(third_ngspice SYSTEM INTERFACE "${KP_NGSPICE_INCLUDE}")
    target_compile_definitions(third_ngspice INTERFACE KP_NGSPICE=1)
  else()
    message(STATUS "libngspice is missing: the circuit solver is not compared with it")
  endif()
endif()
