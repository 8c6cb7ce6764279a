// From the tree of a document to the case: all sections of a case file, in their order.
#pragma once

#include "geometry/casefile/case_file.hpp"
#include "geometry/casefile/document.hpp"

namespace tuft::casefile {

/// Reads and checks a whole case file. `top` is a map. What is wrong goes to `report`; `file` is complete
/// where nothing is, and else holds what could be read.
void read_document(Node top, CaseFile& file, Report& report);

}  // namespace tuft::casefile
