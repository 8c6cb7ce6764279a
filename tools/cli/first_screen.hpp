// What tuft says when nothing is asked of it.
#pragma once

#include <string>

namespace tuft::program {

/// What it is for, its three jobs with one command each, and where to go on. At most 80 columns wide.
std::string first_screen();

}  // namespace tuft::program
