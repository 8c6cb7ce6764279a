// The air before a vent as a solved section has it: what stands in the way bends it, what lies across is left
// out.
#pragma once

#include <optional>

#include "solver/experiment/bench_report.hpp"
#include "solver/flow2d/section_result.hpp"

namespace tuft::bench {

/// A section's field, asked at places in the device frame. It is a plane flow: the vent as if endless across
/// the plane, its mean speed kept, so that a jet dies away more slowly and an intake reaches further than
/// before a short one. docs/theory.md, I24.
class SectionAir {
 public:
  /// Keeps a reference. @pre `section` is usable and of the device and pose that are asked about.
  explicit SectionAir(const section::SectionResult& section) : section_(section) {}

  /// Whether the plane cuts a vent (index into Device::vents) with air before it.
  bool cuts(int vent) const;
  /// Velocity [m/s], in the plane, and temperature [K] at a place [m], projected on the plane: linear between
  /// the middles of cells, of which only those of air count. Nothing inside what stands in the plane and
  /// beyond the field's rim.
  std::optional<instruments::AirAt> at(const Vec3& place) const;
  /// The same velocity; still air where there is none to ask.
  Vec3 velocity(const Vec3& place) const;
  /// Whether a strip held so lies in the plane, within 20 degrees: of one that stands across it the section
  /// knows nothing (judgement).
  bool holds(const instruments::Hanging& hanging) const;

 private:
  const section::SectionResult& section_;
};

/// Air along the outward normal of a vent's middle at distances [m], those left out that lie in something;
/// `upwards` counts what of gravity lies in the plane. Empty if the plane does not cut the vent.
std::vector<AirPoint> air_in_section(const SectionAir& air, const geometry::Vent& vent, int index,
                                     const Vec3& gravity, const std::vector<double>& distances);

}  // namespace tuft::bench
