#include "geometry/casefile/starter.hpp"

namespace tuft::casefile {

using geometry::Face;

const std::vector<StarterClass>& starter_classes() {
  static const std::vector<StarterClass> all = {StarterClass::slim_notebook, StarterClass::handheld,
                                                StarterClass::fanless_box, StarterClass::mini_desktop};
  return all;
}

const char* class_word(StarterClass kind) {
  switch (kind) {
    case StarterClass::slim_notebook:
      return "slim-notebook";
    case StarterClass::handheld:
      return "handheld";
    case StarterClass::fanless_box:
      return "fanless-box";
    case StarterClass::mini_desktop:
      return "mini-desktop";
  }
  return "";
}

const char* class_sentence(StarterClass kind) {
  switch (kind) {
    case StarterClass::slim_notebook:
      return "flat, a blower that blows through fins";
    case StarterClass::handheld:
      return "held in two hands, a small blower";
    case StarterClass::fanless_box:
      return "slots, and nothing but warm air to move anything";
    case StarterClass::mini_desktop:
      return "a box with an axial fan behind a grille";
  }
  return "";
}

// The numbers are those of invented devices, near the ones in cases/, and are meant to be replaced.
Starter starter_of(StarterClass kind) {
  Starter starter;
  starter.kind = kind;
  switch (kind) {
    case StarterClass::slim_notebook:
      starter.size = {0.312, 0.221, 0.016};
      starter.feet = 0.002;
      starter.vents = {Face::base, Face::right};
      starter.outlet = Face::left;
      starter.fan_diameter = 0.052;
      starter.power = 35.0;
      break;
    case StarterClass::handheld:
      starter.size = {0.252, 0.108, 0.022};
      starter.feet = 0.001;
      starter.vents = {Face::base, Face::left};
      starter.outlet = Face::rear;
      starter.fan_diameter = 0.033;
      starter.power = 11.0;
      break;
    case StarterClass::fanless_box:
      starter.size = {0.184, 0.132, 0.042};
      starter.feet = 0.005;
      starter.vents = {Face::base, Face::top, Face::left, Face::right};
      starter.power = 8.5;
      break;
    case StarterClass::mini_desktop:
      starter.size = {0.19, 0.19, 0.092};
      starter.feet = 0.006;
      starter.vents = {Face::base, Face::top, Face::front};
      starter.outlet = Face::rear;
      starter.fan_diameter = 0.08;
      starter.power = 45.0;
      break;
  }
  return starter;
}

std::vector<Face> vent_faces(StarterClass kind) {
  std::vector<Face> faces = {Face::base, Face::top, Face::left, Face::right, Face::front, Face::rear};
  if (kind == StarterClass::slim_notebook) faces.push_back(Face::hinge);
  return faces;
}

std::vector<Face> outlet_faces(StarterClass kind) {
  switch (kind) {
    case StarterClass::slim_notebook:
      return {Face::left, Face::right, Face::front, Face::rear, Face::hinge};
    case StarterClass::handheld:
      return {Face::left, Face::right, Face::front, Face::rear};
    case StarterClass::fanless_box:
      return {};
    case StarterClass::mini_desktop:
      return {Face::left, Face::right, Face::front, Face::rear, Face::top};
  }
  return {};
}

std::string starter_case(const std::string& device_name) {
  Starter starter = starter_of(StarterClass::slim_notebook);
  starter.name = device_name;
  return starter_case(starter);
}

}  // namespace tuft::casefile
