// The case somebody begins with: a class of devices, the few numbers that matter, and the text made of them.
#pragma once

#include <string>
#include <vector>

#include "geometry/device/device.hpp"

namespace tuft::casefile {

/// Classes of devices with a starting case of their own.
enum class StarterClass { slim_notebook, handheld, fanless_box, mini_desktop };

/// All classes, in the order they are offered.
const std::vector<StarterClass>& starter_classes();

/// Word of a class on the command line ("slim-notebook"), and a few words on what it is.
const char* class_word(StarterClass kind);
const char* class_sentence(StarterClass kind);
/// What people call such devices: "laptop", "set-top box". In small letters, with spaces.
std::vector<std::string> class_names(StarterClass kind);

/// A fan, and the face it blows out through. Several may blow through one face, each through its own outlet.
struct StarterFan {
  geometry::Face outlet = geometry::Face::left;
  double diameter = 0.0;  ///< of the impeller [m]
};

/// What is known of a device before its case is written. Lengths in m.
struct Starter {
  StarterClass kind = StarterClass::slim_notebook;
  std::string name;
  geometry::Vec3 size = geometry::Vec3::Zero();
  double feet = 0.0;                  ///< height of the feet, >= 0
  std::vector<geometry::Face> vents;  ///< faces with openings, the outlets' left out; each once
  std::vector<StarterFan> fans;       ///< at most kMostFans
  double power = 0.0;                 ///< of all sources at full load [W], > 0
  std::string schema;                 ///< URI of the JSON Schema for editors; empty: none named
};

/// Most fans of a starting case.
constexpr std::size_t kMostFans = 4;

/// The invented device a class starts from.
Starter starter_of(StarterClass kind);

/// Faces that may have a vent, and faces that a fan may blow through, in a class; without a fan none.
std::vector<geometry::Face> vent_faces(StarterClass kind);
std::vector<geometry::Face> outlet_faces(StarterClass kind);

/// A commented case file for the device. With sizes that go together it is read without error or warning;
/// what does not fit (a fan wider than the chassis) the reader says.
std::string starter_case(const Starter& starter);

}  // namespace tuft::casefile
