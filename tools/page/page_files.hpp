// The files of the page, as they stand in tools/page/page.
#pragma once

#include <map>
#include <string>

namespace tuft::report {

/// Bytes of each file by its name: page.html, style.css, and the scripts.
const std::map<std::string, std::string>& page_files();

}  // namespace tuft::report
