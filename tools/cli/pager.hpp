// Long texts, a screen at a time.
#pragma once

#include <string>

#include "tools/io/grid.hpp"

namespace tuft::program {

/// The look of a text that `page` will show: as on standard output, but without colour where the person's own
/// pager may not show it.
output::Look paged_look();

/// Shows a text on the terminal through $PAGER, else less, else more; where standard output is no terminal,
/// writes it there. A pager that is left before the end of the text is no error.
void page(const std::string& text);

}  // namespace tuft::program
