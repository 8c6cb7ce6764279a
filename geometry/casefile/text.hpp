// The text of a case file before YAML sees it: encoding, line ends, lines, columns.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace tuft::casefile {

/// A place in a file; line and column start at 1, columns count characters (code points), not bytes.
struct Spot {
  int line = 0;
  int column = 0;
};

/// What is wrong with the raw text, and where; `message` empty means nothing is.
struct TextFault {
  Spot spot;
  std::string message;
};

/// Largest case file that is read [bytes].
constexpr std::size_t kMaxFileSize = 1u << 20;
/// Longest line that is read [bytes]; the YAML scanner looks ahead along a line.
constexpr std::size_t kMaxLineLength = 10000;

/// What a file holds, or why it can't be read.
struct FileText {
  std::string text, fault;
  bool missing = false;  ///< it can't be opened
};
/// Reads a file of at most kMaxFileSize bytes; `what` says what it should be ("a case file").
FileText read_file(const std::string& path, const std::string& what);

/// The text with the byte-order mark removed and every line end (CRLF, lone CR) turned into LF.
std::string normalised(std::string_view text);

/// Lines of a text without their ends; CRLF, CR and LF all end a line. Never empty.
std::vector<std::string_view> split_lines(std::string_view text);

/// Number of bytes of the UTF-8 character at the start of `text`, or 0 if it is not valid UTF-8
/// (overlong forms and surrogates included).
int utf8_length(std::string_view text);

/// The characters of a text; a byte that is no UTF-8 stands alone.
std::vector<std::string_view> characters(std::string_view text);

/// Character column (from 1) of the byte column (from 0) of a line; bytes that are no UTF-8 count one each.
int character_column(std::string_view line, std::size_t byte_column);

/// How many columns of a terminal the first `count` characters of a line take: combining marks none,
/// East Asian wide characters two, a tab one (the excerpt shows it as one space).
int display_width(std::string_view line, int count);

/// Looks for what a case file can't contain: other encodings, control characters, tabs as indentation,
/// overlong lines. `text` must be normalised.
TextFault find_text_fault(std::string_view text);

}  // namespace tuft::casefile
