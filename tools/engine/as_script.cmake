# Writes OUT, a script that holds the bytes of WASM in base64.
execute_process(COMMAND base64 -w0 ${WASM} OUTPUT_VARIABLE text COMMAND_ERROR_IS_FATAL ANY)
file(WRITE ${OUT} "// The solver of the page, made from solver/ by emscripten.\nconst SOLVER_BYTES = '${text}';\n")
