# What the scripts share: steps that have to succeed, and a folder of their own.

# step(<name> COMMAND ...): runs, fails the test with all that was printed, leaves the output in `out`.
function(step name)
  cmake_parse_arguments(PARSE_ARGV 1 arg "" "IN" "COMMAND")
  if(NOT arg_IN)
    set(arg_IN ${scratch})
  endif()
  execute_process(COMMAND ${arg_COMMAND} WORKING_DIRECTORY ${arg_IN} RESULT_VARIABLE status OUTPUT_VARIABLE text
    ERROR_VARIABLE errors)
  if(NOT status EQUAL 0)
    message(FATAL_ERROR "${name}: status ${status}\n${text}${errors}")
  endif()
  set(out "${text}" PARENT_SCOPE)
endfunction()

# The text has to hold each of these words.
function(holds what text)
  foreach(word IN LISTS ARGN)
    string(FIND "${text}" "${word}" at)
    if(at EQUAL -1)
      message(FATAL_ERROR "${what} has no '${word}':\n${text}")
    endif()
  endforeach()
endfunction()

string(RANDOM LENGTH 8 tail)
set(scratch ${BUILD}/install-test-${tail})
file(MAKE_DIRECTORY ${scratch})
