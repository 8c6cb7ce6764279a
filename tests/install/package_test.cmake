# Makes the Debian package and looks into it.
include(${CMAKE_CURRENT_LIST_DIR}/steps.cmake)
find_program(DPKG_DEB dpkg-deb)
if(NOT DPKG_DEB)
  message(STATUS "no dpkg-deb here: no Debian package")
  file(REMOVE_RECURSE ${scratch})
  return()
endif()
get_filename_component(bin ${CMAKE_COMMAND} DIRECTORY)
step("cpack" COMMAND ${bin}/cpack -G DEB --config ${BUILD}/CPackConfig.cmake -B ${scratch}/package)
file(GLOB package ${scratch}/package/*.deb)
step("dpkg-deb -I" COMMAND ${DPKG_DEB} -I ${package})
holds("the package" "${out}" "Package: tuft" "Version: ${VERSION}" "Maintainer: The Tuft project" "Depends:"
  "libc6" "libyaml-cpp" "libvtk9" "libmicrohttpd" "zlib1g" "Section: science")
step("dpkg-deb -c" COMMAND ${DPKG_DEB} -c ${package})
holds("the package" "${out}" "./usr/bin/tuft" "./usr/share/man/man1/tuft.1" "./usr/include/tuft/geometry/device.hpp"
  "./usr/share/tuft/case-file.schema.json" "tuft-config.cmake" "root/root")
file(REMOVE_RECURSE ${scratch})
