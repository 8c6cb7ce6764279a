// Plain values as JSON. For the files that write results.json only: this header pulls in the JSON library.
#pragma once

#include "tools/io/case_json.hpp"

namespace tuft::output {

using model::Json;
using model::matrix_json;
using model::plain;
using model::vector_json;

}  // namespace tuft::output
