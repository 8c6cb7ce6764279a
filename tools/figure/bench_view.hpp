// How the bench drawing sees a device: at a slant, from where most vents are in sight. For bench_*.cpp only.
#pragma once

#include "tools/figure/bench_drawing.hpp"

namespace tuft::figure {

/// A parallel projection of the world onto the page.
struct Slant {
  geometry::Vec3 right, up, towards;  ///< unit vectors in the world
  geometry::Pose pose;
  geometry::Vec3 middle = geometry::Vec3::Zero();  ///< of the device, its own frame [m]
  double scale = 1.0;                              ///< [px/m]
  Point origin;                                    ///< the device's middle on the page [px]

  /// A point of the device frame on the page.
  Point at(const geometry::Vec3& point) const;
  /// A direction of the device frame on the page, per metre times the scale; y downwards.
  Point direction(const geometry::Vec3& vector) const;
  /// Cosine between a direction of the device frame and the reader's.
  double facing(const geometry::Vec3& vector) const;
};

/// The eight corners of the chassis.
std::vector<geometry::Vec3> corners_of(const geometry::Device& device);
/// The four corners of a vent's rectangle, round it.
std::vector<geometry::Vec3> outline_of(const geometry::Vent& vent);
/// The four corners of the open lid.
std::vector<geometry::Vec3> lid_outline(const geometry::Device& device, double angle);

/// The slant from which the vents of a device in a pose are seen best; the first of equals.
Slant best_slant(const geometry::Device& device, const geometry::Pose& pose);

/// The box that everything in a panel takes on the page.
Box extent_of(const geometry::Device& device, const BenchPanel& panel, const Slant& slant);

}  // namespace tuft::figure
