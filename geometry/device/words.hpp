// The words for the kinds of things, as case files and results write them.
#pragma once

#include <array>
#include <cstddef>

#include "geometry/device/condition.hpp"

namespace tuft::geometry {

/// The words of an enumeration, in the order of its values.
template <class Kind>
struct Words;

template <>
struct Words<Face> {
  static constexpr std::array<const char*, 7> list = {"base",  "top",  "left", "right",
                                                      "front", "rear", "hinge"};
};

template <>
struct Words<CoverKind> {
  static constexpr std::array<const char*, 6> list = {"open",   "perforated", "mesh",
                                                      "louvre", "slots",      "foam"};
};

template <>
struct Words<PlaceKind> {
  static constexpr std::array<const char*, 8> list = {"zone", "fins", "fan-inlet", "fan-outlet",
                                                      "vent", "part", "skin",      "source"};
};

template <>
struct Words<FanKind> {
  static constexpr std::array<const char*, 2> list = {"blower", "axial"};
};

template <>
struct Words<SkinMaterial> {
  static constexpr std::array<const char*, 4> list = {"metal", "glass", "plastic", "wood"};
};

template <>
struct Words<SupportKind> {
  static constexpr std::array<const char*, 6> list = {"air", "hard", "soft", "lap", "wall", "stand"};
};

template <>
struct Words<FanState> {
  static constexpr std::array<const char*, 3> list = {"running", "stopped", "follows"};
};

/// The word of one value.
template <class Kind>
constexpr const char* word_of(Kind kind) {
  return Words<Kind>::list[static_cast<std::size_t>(kind)];
}

}  // namespace tuft::geometry
