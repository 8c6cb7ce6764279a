// The case somebody begins with.
#pragma once

#include <string>

namespace tuft::casefile {

/// A commented case file for a device of this name, complete enough to be read without errors. The sizes are
/// those of an invented notebook and are meant to be replaced.
std::string starter_case(const std::string& device_name);

}  // namespace tuft::casefile
