# Installs into a folder, runs the program from there, and builds a project that knows nothing but that folder.
include(${CMAKE_CURRENT_LIST_DIR}/steps.cmake)
set(tree ${scratch}/tree)
step("install" COMMAND ${CMAKE_COMMAND} --install ${BUILD} --prefix ${tree})

foreach(file bin/tuft share/man/man1/tuft.1 share/bash-completion/completions/tuft share/tuft/case-file.schema.json
    share/zsh/vendor-completions/_tuft share/fish/vendor_completions.d/tuft.fish share/tuft/cases/slim-notebook.yaml
    share/doc/tuft/README.md share/doc/tuft/docs/theory.md include/tuft/solver/study/predict.hpp)
  if(NOT EXISTS ${tree}/${file})
    message(FATAL_ERROR "not installed: ${file}")
  endif()
endforeach()

# The program finds the schema that was installed with it.
step("new" COMMAND ${tree}/bin/tuft new Box --class fanless-box)
file(READ ${scratch}/box.yaml case LIMIT 400)
holds("the case" "${case}" "file://${tree}/share/tuft/case-file.schema.json")
step("doctor" COMMAND ${tree}/bin/tuft doctor)
holds("doctor" "${out}" "${tree}/share/tuft/case-file.schema.json" "All is well.")

# Where the engine of live pages was built, it was installed, and is found by the program there.
if(EXISTS ${BUILD}/share/tuft/page-engine.wasm)
  string(REGEX REPLACE "[ \n]+" " " words "${out}")
  holds("doctor" "${words}" "${tree}/share/tuft/page-engine.wasm: a page solves any angle live")
  step("report" COMMAND ${tree}/bin/tuft report box.yaml)
  file(READ ${scratch}/box.html page)
  holds("the page" "${page}" "const SOLVER_BYTES = 'eN")
endif()

step("configure" COMMAND ${CMAKE_COMMAND} -S ${CMAKE_CURRENT_LIST_DIR}/consumer -B ${scratch}/consumer
  -DCMAKE_PREFIX_PATH=${tree} -DCMAKE_CXX_COMPILER_LAUNCHER=${LAUNCHER} -DSANITIZE=${SANITIZE})
step("build" COMMAND ${CMAKE_COMMAND} --build ${scratch}/consumer)
step("run" COMMAND ${scratch}/consumer/consumer ${scratch}/box.yaml)
holds("the consumer" "${out}" "base-slots intake" "top-slots exhaust")
file(REMOVE_RECURSE ${scratch})
