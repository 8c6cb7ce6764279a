// Bytes as text (RFC 4648, base 64), for pictures within an SVG document.
#pragma once

#include <string>

namespace tuft::figure {

/// The bytes in base 64 with padding, as RFC 4648 section 4 defines it.
std::string base64(const std::string& bytes);

}  // namespace tuft::figure
