#include "tools/cli/questions.hpp"

#include <algorithm>
#include <stdexcept>

#include "geometry/casefile/boxes.hpp"
#include "tools/cli/answers.hpp"

namespace tuft::start {
namespace {

using casefile::Starter;
using casefile::StarterClass;
using geometry::Face;

/// The input ended.
struct Ended {};

/// Gets one thing after the other: what was given, else what is answered, else what the class has.
class Inquiry {
 public:
  explicit Inquiry(const Talk* talk) : talk_(talk) {}

  /// `understand` makes a value of a text; `usual` is what an empty answer stands for.
  template <typename Type, typename Understand>
  Type get(const std::optional<std::string>& given, const char* option, const std::string& question,
           const std::string& usual, Understand understand) const {
    if (given) return sound(understand(*given), option);
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

std::string class_question() {
  std::string text = "What is it most like?\n";
  int number = 0;
  for (const StarterClass kind : casefile::starter_classes()) {
    text += "  " + std::to_string(++number) + "  " + casefile::class_word(kind) + ": " +
            casefile::class_sentence(kind) + "\n";
  }
  return text + "Number or word";
}

std::vector<Face> without(std::vector<Face> faces, Face face) {
  faces.erase(std::remove(faces.begin(), faces.end(), face), faces.end());
  return faces;
}

Answer<std::string> name_of(const std::string& text) {
  if (text.find_first_not_of(" \t\r") == std::string::npos) return {"", "a name is needed"};
  return {text, ""};
}

Answer<Face> outlet_of(const std::string& text, const std::vector<Face>& allowed) {
  const Answer<std::vector<Face>> faces = faces_of(text, allowed);
  if (!faces.ok()) return {Face::left, faces.fault};
  if (faces.value.size() > 1) return {Face::left, "one face is asked for; add another outlet in the file"};
  return {faces.value.front(), ""};
}

// An impeller has to fit into the two longer sides, as the reader will say again.
double room_for_impeller(const geometry::Vec3& size) {
  double sides[] = {size.x(), size.y(), size.z()};
  std::sort(std::begin(sides), std::end(sides));
  return sides[1];
}

void get_fan(const Given& given, const Inquiry& inquiry, Starter& starter) {
  const std::vector<Face> allowed = casefile::outlet_faces(starter.kind);
  if (allowed.empty()) {
    if (given.outlet || given.fan) {
      throw std::invalid_argument(std::string("--outlet, --fan: a ") + casefile::class_word(starter.kind) +
                                  " has no fan");
    }
    return;
  }
  starter.outlet =
      inquiry.get<Face>(given.outlet, "--outlet", "Where does the fan blow out (" + face_words(allowed) + ")",
                        geometry::face_word(*starter.outlet),
                        [&](const std::string& text) { return outlet_of(text, allowed); });
  const double most = starter.kind == casefile::StarterClass::mini_desktop
                          ? casefile::face_size(starter.size, *starter.outlet).minCoeff()
                          : room_for_impeller(starter.size);
  starter.fan_diameter =
      inquiry.get<double>(given.fan, "--fan", "Diameter of the fan's impeller",
                          millimetres(std::min(starter.fan_diameter, 0.9 * most)),
                          [&](const std::string& text) { return length_of(text, 5e-3, most); });
}

void get_vents(const Given& given, const Inquiry& inquiry, Starter& starter) {
  std::vector<Face> allowed = casefile::vent_faces(starter.kind);
  std::vector<Face> usual = starter.vents;
  if (starter.outlet) {
    allowed = without(allowed, *starter.outlet);
    usual = without(usual, *starter.outlet);
  }
  if (usual.empty()) usual = {Face::base};
  const std::string besides =
      starter.outlet ? "Where else are there openings (" : "Where are there openings (";
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
  get_fan(given, inquiry, starter);
  get_vents(given, inquiry, starter);
  starter.power =
      inquiry.get<double>(given.power, "--power", "Power at full load", watts(starter.power), power_of);
  return starter;
}

}  // namespace

std::optional<Starter> ask_for_starter(const Given& given, const Talk& talk) {
  try {
    return get_starter(given, Inquiry(&talk));
  } catch (const Ended&) {
    return std::nullopt;
  }
}

Starter starter_from(const Given& given) { return get_starter(given, Inquiry(nullptr)); }

}  // namespace tuft::start
