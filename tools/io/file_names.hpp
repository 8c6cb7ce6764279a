// File names made from names that people gave to things.
#pragma once

#include <string>
#include <vector>

namespace tuft::output {

/// A name made fit for any file system: letters and digits of any script (in UTF-8), '-' and '_', not more
/// than 60 bytes of them, none of the device names some systems reserve. No dots: endings are the writers'
/// own. What is left of nothing is "unnamed".
std::string file_name_of(const std::string& name);

/// File names for all the names, in their order, no two the same even where upper and lower case are not told
/// apart: the second and later ones get "-2", "-3" and so on.
std::vector<std::string> file_names_of(const std::vector<std::string>& names);

}  // namespace tuft::output
