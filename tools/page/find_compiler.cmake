# Fails, and says what to install, when EMXX, emscripten's compiler, is not there.
find_program(compiler ${EMXX} NO_CACHE)
if(NOT compiler)
  message(FATAL_ERROR "The page's engine is compiled by emscripten, and ${EMXX} is not there. "
    "Install it, then build page_engine again: sudo apt-get install --no-install-recommends emscripten")
endif()
