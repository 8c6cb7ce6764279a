// A figure set into a page of a given size, such as the frame of a video.
#pragma once

#include <string>

#include "tools/figure/plane.hpp"

namespace tuft::figure {

/// Width and height of one of our documents [px]. Throws std::invalid_argument when it is none.
Point document_size(const std::string& document);

/// The document as large as it fits into a page of that size [px], in its middle, on paper. Width and height
/// 1 .. 20000. Throws std::invalid_argument.
std::string framed(const std::string& document, int width, int height);

}  // namespace tuft::figure
