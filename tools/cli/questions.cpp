#include "tools/cli/questions.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <stdexcept>

#include "geometry/casefile/boxes.hpp"
#include "geometry/casefile/nearest.hpp"
#include "geometry/casefile/quantity.hpp"
#include "geometry/device/lists.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/words.hpp"

namespace tuft::cli {
namespace {

using casefile::Dimension;
using geometry::Face;

std::string trimmed(const std::string& text) {
  const std::size_t from = text.find_first_not_of(" \t\r\n");
  if (from == std::string::npos) return "";
  return text.substr(from, text.find_last_not_of(" \t\r\n") - from + 1);
}

bool is_bare_number(const std::string& text) {
  return !text.empty() && text.find_first_not_of("0123456789.") == std::string::npos;
}

void replace_all(std::string& text, const std::string& from, const std::string& to) {
  for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size()))
    text.replace(at, from.size(), to);
}

// Inches as people write them, and spaces that are no plain ones.
std::string plain_signs(std::string text) {
  for (const char* inch : {"\"", "″", "”", "''", "’’"}) replace_all(text, inch, " in ");
  for (const char* space : {"\u00a0", "\u202f", "\u2009"}) replace_all(text, space, " ");
  return text;
}

// The same with one sign for "by": "x".
std::string plain_products(std::string text) {
  text = plain_signs(std::move(text));
  for (const char* times : {"×", "✕", "X", "*", " by "}) replace_all(text, times, "x");
  return text;
}

bool is_digit_at(const std::string& text, std::size_t at) {
  return at < text.size() && text[at] >= '0' && text[at] <= '9';
}

// A comma between two digits as a decimal point.
std::string with_points(std::string text) {
  for (std::size_t i = 1; i < text.size(); ++i)
    if (text[i] == ',' && is_digit_at(text, i - 1) && is_digit_at(text, i + 1)) text[i] = '.';
  return text;
}

// A quantity with its usual unit when none was typed. Spreads belong into the file.
Answer<double> quantity_of(const std::string& typed, const char* unit, Dimension dimension) {
  const std::string text = trimmed(with_points(plain_signs(typed)));
  const auto read = casefile::read_quantity(is_bare_number(text) ? text + " " + unit : text, dimension);
  if (read.ok() && read.value.spread == geometry::SpreadKind::none) return {*read.value, ""};
  if (read.ok()) return {0.0, "a single value is asked for here; write its uncertainty into the file"};
  return {0.0, io::printable(read.fault) + (read.hint.empty() ? "" : "; " + read.hint)};
}

std::vector<std::string> split(const std::string& text, const std::string& separators) {
  std::vector<std::string> parts;
  std::string part;
  for (const char c : text + separators.substr(0, 1)) {
    if (separators.find(c) == std::string::npos) {
      part += c;
    } else if (!trimmed(part).empty()) {
      parts.push_back(trimmed(part));
      part.clear();
    }
  }
  return parts;
}

// "312 x 221 x 16", "312 × 221 × 16 mm", "312, 221, 16", "31,4 x 22,4 x 1,8 cm" and "12.3\" x 8.7\" x 0.6\""
// alike: where another sign stands between the lengths, a comma within one begins its decimals. The unit at
// the end may stand for all.
std::vector<std::string> three_parts(const std::string& typed) {
  std::string text = plain_products(typed);
  const bool other_sign =
      text.find_first_of("x;") != std::string::npos || text.find(", ") != std::string::npos;
  if (other_sign) text = with_points(text);
  std::replace(text.begin(), text.end(), 'x', ';');
  std::vector<std::string> parts = split(text, ",;[]");
  if (parts.size() == 1) parts = split(text, " ");
  const std::size_t unit = parts.empty() ? std::string::npos : parts.back().find_last_of("0123456789.");
  if (unit == std::string::npos) return parts;
  const std::string last = trimmed(parts.back().substr(unit + 1));
  for (std::string& part : parts)
    if (!last.empty() && is_bare_number(part)) part += " " + last;
  return parts;
}

std::vector<std::string> words_of(const std::vector<Face>& faces) {
  std::vector<std::string> words;
  for (const Face face : faces) words.emplace_back(geometry::face_word(face));
  return words;
}

std::string face_words(const std::vector<Face>& faces) { return io::joined(words_of(faces), ", "); }

std::string with_hint(const std::string& message, const std::string& word,
                      const std::vector<std::string>& known) {
  const std::string hint = casefile::hint_for(word, known);
  return message + (hint.empty() ? "; there are: " + casefile::listed(known) : "; " + hint);
}

using casefile::Starter;
using casefile::StarterClass;

/// The input ended.
struct Ended {};

/// Gets one thing after the other: what was given, else what is answered, else what the class has.
class Inquiry {
 public:
  explicit Inquiry(const Talk* talk) : talk_(talk) {}

  /// `understand` makes a value of a text; `usual` is what an empty answer stands for.
  template <typename Type, typename Understand>
  Type get(const std::string& given, const char* option, const std::string& question,
           const std::string& usual, Understand understand) const {
    if (!given.empty()) return sound(understand(given), option);
    if (talk_ == nullptr) return sound(understand(usual), option);
    for (;;) {
      talk_->say(question + (usual.empty() ? ": " : " [" + usual + "]: "));
      const std::optional<std::string> line = talk_->line();
      if (!line) throw Ended{};
      const bool empty = line->find_first_not_of(" \t\r") == std::string::npos;
      const Answer<Type> answer = understand(empty ? usual : *line);
      if (answer.ok()) return answer.value;
      talk_->say("  " + answer.fault + ".\n");
    }
  }

 private:
  template <typename Type>
  static Type sound(const Answer<Type>& answer, const char* option) {
    if (!answer.ok()) throw std::invalid_argument(std::string(option) + ": " + answer.fault);
    return answer.value;
  }

  const Talk* talk_;
};

// "laptop, notebook": what people call devices of a class.
std::string names_text(StarterClass kind) { return io::joined(casefile::class_names(kind), ", "); }

std::string class_question() {
  std::string text = "What is it most like?\n";
  int number = 0;
  for (const StarterClass kind : casefile::starter_classes())
    text += "  " + std::to_string(++number) + "  " + casefile::class_word(kind) + ": " +
            casefile::class_sentence(kind) + " (" + names_text(kind) + ")\n";
  return text + "Number or word";
}

// In small letters, with spaces: "Set-Top Box" and "set_top box" are "set top box".
std::string plain_name(const std::string& typed) {
  std::string text = io::lower_case(typed);
  std::replace(text.begin(), text.end(), '-', ' ');
  std::replace(text.begin(), text.end(), '_', ' ');
  return text;
}

std::vector<Face> without(std::vector<Face> faces, Face face) {
  faces.erase(std::remove(faces.begin(), faces.end(), face), faces.end());
  return faces;
}

Answer<std::string> name_of(const std::string& text) {
  if (text.find_first_not_of(" \t\r") == std::string::npos) return {"", "a name is needed"};
  return {text, ""};
}

// A face for each fan: the same may stand twice.
Answer<std::vector<Face>> outlets_of(const std::string& text, const std::vector<Face>& allowed) {
  std::vector<Face> outlets;
  for (const std::string& word : split(text, ", \t")) {
    const Answer<std::vector<Face>> face = faces_of(word, allowed);
    if (!face.ok()) return face;
    outlets.push_back(face.value.front());
  }
  if (outlets.empty()) return faces_of(text, allowed);
  if (outlets.size() > casefile::kMostFans)
    return {{}, fmt::format("at most {} fans can be asked for; add others in the file", casefile::kMostFans)};
  return {outlets, ""};
}

// An impeller has to fit into the two longer sides, as the reader will say again.
double room_for_impeller(const geometry::Vec3& size) {
  double sides[] = {size.x(), size.y(), size.z()};
  std::sort(std::begin(sides), std::end(sides));
  return sides[1];
}

// Room for an impeller at each of these outlets [m].
double room_for_fans(const Starter& starter, const std::vector<Face>& outlets) {
  if (starter.kind != StarterClass::mini_desktop) return room_for_impeller(starter.size);
  double room = starter.size.maxCoeff();
  for (const Face face : outlets) {
    const auto count = static_cast<double>(std::count(outlets.begin(), outlets.end(), face));
    const Eigen::Vector2d sides = casefile::face_size(starter.size, face);
    room = std::min({room, sides.x() / count, sides.y()});
  }
  return room;
}

// One outlet or diameter may stand for all fans.
std::vector<casefile::StarterFan> fans_of(const std::vector<Face>& outlets,
                                          const std::vector<double>& diameters) {
  std::vector<casefile::StarterFan> fans(std::max(outlets.size(), diameters.size()));
  for (std::size_t i = 0; i < fans.size(); ++i)
    fans[i] = {outlets[outlets.size() == 1 ? 0 : i], diameters[diameters.size() == 1 ? 0 : i]};
  return fans;
}

// What is too large for the box, and why.
Answer<std::vector<double>> within_box(Answer<std::vector<double>> found, const Starter& starter,
                                       double room) {
  if (!found.ok() && found.fault.find("out of range") != std::string::npos)
    found.fault += fmt::format("; the device is {} x {} x {}, and no impeller larger than {} fits there",
                               millimetres(starter.size.x()), millimetres(starter.size.y()),
                               millimetres(starter.size.z()), millimetres(room));
  return found;
}

// As many as there are outlets, or one for all; several with one outlet are that many fans.
Answer<std::vector<double>> diameters_of(const std::string& text, const Starter& starter,
                                         const std::vector<Face>& outlets) {
  const double room = room_for_fans(starter, outlets);
  Answer<std::vector<double>> all = within_box(lengths_of(text, 5e-3, room), starter, room);
  if (!all.ok()) return all;
  const std::size_t count = all.value.size();
  if (count > casefile::kMostFans)
    return {{}, fmt::format("at most {} fans can be asked for; add others in the file", casefile::kMostFans)};
  if (count > 1 && outlets.size() > 1 && count != outlets.size())
    return {{}, fmt::format("{} fans for {} outlets; give a face for each fan", count, outlets.size())};
  const std::vector<Face> each(std::max(count, outlets.size()), outlets.front());
  const double shared = room_for_fans(starter, each);
  return outlets.size() == 1 && count > 1 ? within_box(lengths_of(text, 5e-3, shared), starter, shared) : all;
}

void get_fans(const Given& given, const Inquiry& inquiry, Starter& starter) {
  const std::vector<Face> allowed = casefile::outlet_faces(starter.kind);
  if (allowed.empty()) {
    if (!given.outlet.empty() || !given.fan.empty())
      throw std::invalid_argument(std::string("--outlet, --fan: a ") + casefile::class_word(starter.kind) +
                                  " has no fan");
    return;
  }
  const casefile::StarterFan usual = starter.fans.front();
  const auto outlets = inquiry.get<std::vector<Face>>(
      given.outlet, "--outlet",
      "Where does the fan blow out (" + face_words(allowed) + "; of several fans a face each)",
      geometry::face_word(usual.outlet), [&](const std::string& text) { return outlets_of(text, allowed); });
  const double most = room_for_fans(starter, outlets);
  const auto diameters = inquiry.get<std::vector<double>>(
      given.fan, "--fan", "Diameter of the fan's impeller (of several fans one each, or one for all)",
      millimetres(std::min(usual.diameter, 0.9 * most)),
      [&](const std::string& text) { return diameters_of(text, starter, outlets); });
  starter.fans = fans_of(outlets, diameters);
}

void get_vents(const Given& given, const Inquiry& inquiry, Starter& starter) {
  std::vector<Face> allowed = casefile::vent_faces(starter.kind);
  std::vector<Face> usual = starter.vents;
  for (const casefile::StarterFan& fan : starter.fans) {
    allowed = without(allowed, fan.outlet);
    usual = without(usual, fan.outlet);
  }
  if (usual.empty()) usual = {Face::base};
  const std::string besides =
      !starter.fans.empty() ? "Where else are there openings (" : "Where are there openings (";
  starter.vents = inquiry.get<std::vector<Face>>(
      given.vents, "--vents", besides + face_words(allowed) + ")", face_words(usual),
      [&](const std::string& text) { return faces_of(text, allowed); });
}

Starter get_starter(const Given& given, const Inquiry& inquiry) {
  const StarterClass kind =
      inquiry.get<StarterClass>(given.kind, "--class", class_question(), "slim-notebook", class_of);
  Starter starter = casefile::starter_of(kind);
  starter.name = inquiry.get<std::string>(given.name, "NAME", "What is it called", "", name_of);
  const std::string usual = millimetres(starter.size.x()) + " x " + millimetres(starter.size.y()) + " x " +
                            millimetres(starter.size.z());
  starter.size = inquiry.get<geometry::Vec3>(given.size, "--size", "Width x depth x height", usual, size_of);
  starter.feet = inquiry.get<double>(given.feet, "--feet", "Height of its feet", millimetres(starter.feet),
                                     [](const std::string& text) { return length_of(text, 0.0, 0.1); });
  get_fans(given, inquiry, starter);
  get_vents(given, inquiry, starter);
  starter.power =
      inquiry.get<double>(given.power, "--power", "Power at full load", watts(starter.power), power_of);
  return starter;
}

}  // namespace

Answer<casefile::StarterClass> class_of(const std::string& typed) {
  const std::string text = trimmed(typed), plain = plain_name(text);
  std::vector<std::string> known;
  int number = 0;
  for (const casefile::StarterClass kind : casefile::starter_classes()) {
    const std::vector<std::string> names = casefile::class_names(kind);
    known.emplace_back(casefile::class_word(kind));
    if (plain == plain_name(known.back()) || text == std::to_string(++number) ||
        geometry::contains(names, plain))
      return {kind, ""};
    known.insert(known.end(), names.begin(), names.end());
  }
  return {casefile::StarterClass::slim_notebook,
          with_hint("there is no class '" + io::printable(text) + "'", text, known)};
}

Answer<geometry::Vec3> size_of(const std::string& text) {
  const std::vector<std::string> parts = three_parts(text);
  if (parts.size() != 3)
    return {geometry::Vec3::Zero(),
            fmt::format("three lengths are needed, as in 312 x 221 x 16 mm: width, depth, height; found {}",
                        parts.size())};
  // A unit at the end stands for all; one that only others have may be meant for the last, or not.
  const auto bare = std::find_if(parts.begin(), parts.end(), is_bare_number);
  const auto other = std::find_if_not(parts.begin(), parts.end(), is_bare_number);
  if (bare != parts.end() && other != parts.end())
    return {geometry::Vec3::Zero(),
            fmt::format("'{}' has no unit, and '{}' has one: write the unit of each",
                        io::printable(trimmed(*bare)), io::printable(trimmed(*other)))};
  geometry::Vec3 size;
  for (int i = 0; i < 3; ++i) {
    const Answer<double> side = length_of(parts[i], 5e-3, 2.0);
    if (!side.ok()) return {geometry::Vec3::Zero(), side.fault};
    size[i] = side.value;
  }
  return {size, ""};
}

Answer<double> length_of(const std::string& text, double least, double most) {
  const Answer<double> length = quantity_of(text, "mm", Dimension::length);
  if (!length.ok() || (length.value >= least && length.value <= most)) return length;
  return {0.0, fmt::format("{} is out of range: allowed is {} to {}", millimetres(length.value),
                           millimetres(least), millimetres(most))};
}

Answer<std::vector<double>> lengths_of(const std::string& typed, double least, double most) {
  std::string text = plain_products(typed);
  std::size_t times = 1;
  const std::size_t sign = text.find('x');  // "2 x 52 mm"
  if (sign != std::string::npos) {
    const std::string count = trimmed(text.substr(0, sign));
    if (count.size() != 1 || count[0] < '1' || count[0] > '9')
      return {{}, "write how many and how large, as in 2 x 52 mm, or one length after the other"};
    times = static_cast<std::size_t>(count[0] - '0');
    text = text.substr(sign + 1);
  }
  std::vector<double> lengths;
  for (const std::string& part : split(with_points(text), ",;")) {
    const Answer<double> length = length_of(part, least, most);
    if (!length.ok()) return {{}, length.fault};
    lengths.insert(lengths.end(), times, length.value);
  }
  if (lengths.empty()) return {{}, length_of(text, least, most).fault};
  return {lengths, ""};
}

Answer<double> power_of(const std::string& text) {
  const Answer<double> power = quantity_of(text, "W", Dimension::power);
  if (!power.ok() || (power.value > 0.0 && power.value <= 5000.0)) return power;
  return {0.0, fmt::format("{} is out of range: allowed is above 0 W up to 5000 W", watts(power.value))};
}

Answer<std::vector<Face>> faces_of(const std::string& text, const std::vector<Face>& allowed) {
  const std::vector<std::string> known = words_of(allowed);
  std::vector<Face> faces;
  for (const std::string& word : split(text, ", \t")) {
    const std::string small = io::lower_case(word), ours = casefile::our_word_for(small, known);
    const auto found = std::find(known.begin(), known.end(), ours.empty() ? small : ours);
    if (found == known.end())
      return {{}, with_hint("there can be none at '" + io::printable(word) + "'", word, known)};
    const Face face = allowed[found - known.begin()];
    if (!geometry::contains(faces, face)) faces.push_back(face);
  }
  if (faces.empty()) return {{}, "at least one is needed, of: " + casefile::listed(known)};
  return {faces, ""};
}

std::string millimetres(double length) { return fmt::format("{:.5g} mm", length * 1e3); }

std::string watts(double power) { return fmt::format("{:.4g} W", power); }

std::optional<Starter> ask_for_starter(const Given& given, const Talk& talk) {
  try {
    return get_starter(given, Inquiry(&talk));
  } catch (const Ended&) {
    return std::nullopt;
  }
}

Starter starter_from(const Given& given) { return get_starter(given, Inquiry(nullptr)); }

}  // namespace tuft::cli
