# Writes OUT, a C++ file with a mark over all sources in FOLDERS, and OUT.d, which tells the build what was read.
# TOP: the source tree; names count from there, so that the mark is the same wherever the tree lies.
set(listing "")
set(read "")
foreach(folder IN LISTS FOLDERS)
  file(GLOB files ${folder}/*.cpp ${folder}/*.hpp)
  list(SORT files)
  foreach(file IN LISTS files)
    file(SHA256 ${file} sum)
    file(RELATIVE_PATH name ${TOP} ${file})
    string(APPEND listing "${sum} ${name}\n")
    string(REPLACE " " "\\ " escaped "${file}")
    string(APPEND read " \\\n  ${escaped}")
  endforeach()
endforeach()
string(SHA256 sum "${listing}")
file(WRITE ${OUT} "// Made by engine_mark.cmake; do not edit.
#include \"tools/page/engine.hpp\"

namespace tuft::page {

const char* mark() { return \"tuft page engine ${sum}\"; }

}  // namespace tuft::page
")
string(REPLACE " " "\\ " escaped "${OUT}")
file(WRITE ${OUT}.d "${escaped}:${read}\n")
