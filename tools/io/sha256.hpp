// SHA-256 of a text, to say which case file a result belongs to.
#pragma once

#include <string>

namespace tuft::output {

/// The SHA-256 digest (FIPS 180-4) of the bytes as 64 hexadecimal digits: what `sha256sum` prints for the
/// file.
std::string sha256(const std::string& bytes);

}  // namespace tuft::output
