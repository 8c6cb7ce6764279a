#include "geometry/casefile/starter.hpp"

namespace tuft::casefile {
namespace {

using geometry::Face;

// A class: its words and other names, the invented device it starts from, and the faces that may have vents
// and outlets. The numbers are near those of the devices in cases/, and are meant to be replaced.
struct ClassInfo {
  const char* word;
  const char* sentence;
  std::vector<std::string> names;
  Starter start;
  std::vector<Face> vent_faces, outlet_faces;
};

const ClassInfo& info_of(StarterClass kind) {
  using F = Face;
  static const std::vector<Face> outer = {F::base, F::top, F::left, F::right, F::front, F::rear};
  static const std::vector<Face> sides = {F::left, F::right, F::front, F::rear};
  static const ClassInfo classes[] = {
      {"slim-notebook",
       "flat, blowers that blow through fins",
       {"laptop", "notebook", "gaming laptop", "gaming notebook", "ultrabook", "convertible"},
       {{}, "", {0.312, 0.221, 0.016}, 0.002, {F::base, F::right}, {{F::left, 0.052}}, 35.0, ""},
       {F::base, F::top, F::left, F::right, F::front, F::rear, F::hinge},
       {F::left, F::right, F::front, F::rear, F::hinge}},
      {"handheld",
       "held in two hands, a small blower",
       {"handheld console", "portable console", "tablet", "phone"},
       {{}, "", {0.252, 0.108, 0.022}, 0.001, {F::base, F::left}, {{F::rear, 0.033}}, 11.0, ""},
       outer,
       sides},
      {"fanless-box",
       "slots, and nothing but warm air to move anything",
       {"router", "modem", "set top box", "tv box", "access point", "switch", "media player", "hub"},
       {{}, "", {0.184, 0.132, 0.042}, 0.005, {F::base, F::top, F::left, F::right}, {}, 8.5, ""},
       outer,
       {}},
      {"mini-desktop",
       "a box with axial fans behind grilles",
       {"mini pc", "pc", "small pc", "desktop", "console", "game console", "server", "nas"},
       {{}, "", {0.19, 0.19, 0.092}, 0.006, {F::base, F::top, F::front}, {{F::rear, 0.08}}, 45.0, ""},
       outer,
       {F::left, F::right, F::front, F::rear, F::top}}};
  return classes[static_cast<std::size_t>(kind)];
}

}  // namespace

const std::vector<StarterClass>& starter_classes() {
  static const std::vector<StarterClass> all = {StarterClass::slim_notebook, StarterClass::handheld,
                                                StarterClass::fanless_box, StarterClass::mini_desktop};
  return all;
}

const char* class_word(StarterClass kind) { return info_of(kind).word; }

const char* class_sentence(StarterClass kind) { return info_of(kind).sentence; }

std::vector<std::string> class_names(StarterClass kind) { return info_of(kind).names; }

Starter starter_of(StarterClass kind) {
  Starter starter = info_of(kind).start;
  starter.kind = kind;
  return starter;
}

std::vector<Face> vent_faces(StarterClass kind) { return info_of(kind).vent_faces; }

std::vector<Face> outlet_faces(StarterClass kind) { return info_of(kind).outlet_faces; }

}  // namespace tuft::casefile
