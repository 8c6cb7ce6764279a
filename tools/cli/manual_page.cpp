#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <map>

#include "tools/cli/command_tree.hpp"
#include "tools/figure/text.hpp"

namespace tuft::cli {
namespace {

// Other characters than ASCII by their code point: a page is read in any locale.
std::string roff(const std::string& text) {
  static const std::map<char32_t, const char*> kEscapes = {
      {U'\\', "\\e"}, {U'-', "\\-"}, {U'\'', "\\(aq"}, {U'"', "\\(dq"}};
  std::string out;
  for (const char32_t code : figure::characters(text)) {
    const bool line_starts = out.empty() || out.back() == '\n';
    if (line_starts && (code == U'.' || code == U'\'')) out += "\\&";
    if (const auto found = kEscapes.find(code); found != kEscapes.end()) {
      out += found->second;
    } else if (code >= 0x80) {
      out += fmt::format("\\[u{:04X}]", static_cast<unsigned>(code));
    } else {
      out += static_cast<char>(code);
    }
  }
  return out;
}

std::string synopsis_of(const Option& option) {
  std::string text;
  for (const std::string& name : option.names)
    text += (text.empty() ? "" : ", ") + ("\\fB" + roff(name) + "\\fR");
  if (option.is_place) text = "\\fI" + roff(option.names.front()) + "\\fR";
  return option.value.empty() ? text : text + " \\fI" + roff(option.value) + "\\fR";
}

std::string options_text(const std::vector<Option>& options) {
  std::string text;
  for (const Option& option : options) {
    text += ".TP\n" + synopsis_of(option) + "\n" + roff(option.description) + ".\n";
    if (!option.words.empty()) {
      text += "One of";
      for (const std::string& word : option.words) text += " \\fB" + roff(word) + "\\fR";
      text += ".\n";
    }
  }
  return text;
}

// Footers hold examples and columns: kept line for line, without empty lines at the ends.
std::string kept(const std::string& text) {
  std::string lines;
  bool blank = false;
  for (std::size_t from = 0; from < text.size();) {
    const std::size_t end = std::min(text.find('\n', from), text.size());
    const std::string line = text.substr(from, end - from);
    from = end + 1;
    if (line.empty()) {
      blank = !lines.empty();
      continue;
    }
    if (blank) lines += ".sp\n";
    blank = false;
    lines += roff(line) + "\n";
  }
  return lines.empty() ? "" : ".nf\n" + lines + ".fi\n";
}

std::string command_text(const CLI::App& command) {
  const std::vector<Option> options = options_of(command);
  std::string line = ".SS tuft " + roff(command.get_name());
  for (const Option& option : options)
    if (option.is_place)
      line += " " + roff(option.required ? option.names.front() : "[" + option.names.front() + "]");
  return line + "\n" + roff(command.get_description()) + ".\n" + options_text(options) +
         (command.get_footer().empty() ? "" : ".PP\n" + kept(command.get_footer()));
}

constexpr const char* kDescription =
    R"(A case file describes one device, as somebody with a ruler and an opened device sees it: its size, its vents,
its fans, what makes heat; and how it is held, on what it lies, what it does. From that the program computes
which vents take air in, which let it out and which do next to nothing, with flows and temperatures, says why,
and checks sentences about it.
.PP
\fBtuft new\fR writes a case file to begin with. \fBtuft reference vents\fR prints what its section
\fBvents\fR can hold, \fBtuft reference\fR every key there is.
)";

constexpr const char* kEnvironment = R"(.TP
\fBNO_COLOR\fR
Set to anything, no colour is written. None is written to a pipe or file either.
.TP
\fBPAGER\fR
What shows the whole reference on a terminal; left out, \fBless\fR or \fBmore\fR.
.TP
\fBOMP_NUM_THREADS\fR
How many threads compute. The results are the same bytes for any number.
)";

constexpr const char* kFiles = R"(.TP
\fIdevice.yaml\fR
A case file. Editors that read JSON Schema complete and check it.
.TP
\fIdevice\-tuft/\fR
The results folder of \fBtuft predict\fR. It is written whole or not at all.
)";

constexpr const char* kCautions =
    R"(This is a prediction, not a safety assessment. Switch the device off, unplug it and let it cool before you
open it. Never open anything while it is connected to the mains. Heat sinks and chips burn fingers. A
lithium battery that is pierced or bent can catch fire. Fans hurt fingers, and break. Never use smoke or
liquids inside electronics. Do not leave a running device with covered vents alone. Follow the
maker\(aqs instructions and your local rules.
)";

}  // namespace

std::string manual_page(const CLI::App& program) {
  std::string text =
      ".\\\" Written by `tuft man`.\n.TH TUFT 1 2026-11-26 \"tuft " TUFT_VERSION
      "\" \"User commands\"\n.SH NAME\ntuft \\- which vents of a small chassis take air in, and which "
      "let it out\n.SH SYNOPSIS\n\\fBtuft\\fR \\fICOMMAND\\fR [\\fIOPTION\\fR ...] [\\fICASE\\fR]\n";
  text += ".SH DESCRIPTION\n" + roff(program.get_description()) + "\n.PP\n" + kDescription;
  text += ".SH OPTIONS\n" + options_text(options_of(program)) + ".SH COMMANDS\n";
  for (const CLI::App* command : program.get_subcommands({})) text += command_text(*command);
  const std::string footer = program.get_footer();  // its caution stands at the end of the page, in full
  text += ".SH EXIT STATUS\n" + kept(footer.substr(0, footer.find("Caution: ")));
  return text + ".SH ENVIRONMENT\n" + kEnvironment + ".SH FILES\n" + kFiles + ".SH CAUTIONS\n" + kCautions;
}

}  // namespace tuft::cli
