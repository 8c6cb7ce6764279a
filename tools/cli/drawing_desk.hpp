// The drawing page of a case file on this machine, and what it saves there: for the commands that serve it.
#pragma once

#include <string>

#include "tools/page/page.hpp"
#include "tools/page/page_server.hpp"

namespace tuft::cli {

/// The engine of the drawing page, beside the program. Throws Failure (output_not_written), which says how to
/// get it, where there is none that can be used.
std::string engine_for_drawing();

/// What the page needs of a case file: its text, and the photos that it names and that lie beside it. A file
/// that is not there yet begins as a device without vents.
page::DrawnCase drawn_case(const std::string& path);

/// A desk for the case file at `path`, under a fresh key. What is saved replaces the file whole, unless it
/// was changed by somebody else since the page read it; then the program reads it again, and answers
/// {"errors": the reader's messages, or null}. Photos are written beside it, under the names of photo_name().
page::Desk desk_for(const std::string& path, const std::string& engine);

/// The file that the photo of a face has beside a case file: "my-notebook-base.jpg". Empty for another word
/// than a face.
std::string photo_name(const std::string& path, const std::string& face);

}  // namespace tuft::cli
