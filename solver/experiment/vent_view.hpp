// One vent at the bench beside the same vent in use.
#pragma once

#include "solver/experiment/look.hpp"
#include "solver/experiment/section_air.hpp"

namespace tuft::bench {

/// The solved conditions that a vent is looked at in.
struct Scene {
  const geometry::Case& content;
  const study::ConditionResult& use;
  const study::ConditionResult& bench;
  const study::ConditionResult& cold;    ///< bench without load, fans as at the bench
  const study::ConditionResult& forced;  ///< bench without load, fans at full speed
  const OutsideAir& air;                 ///< around the device at the bench
  const Responses& responses;
  const SectionAir* section = nullptr;  ///< at the bench, where one was run
};

/// Everything about one vent but its traps and what an instrument does to its flow.
VentView vent_view(const Scene& scene, const study::VentChange& change);

/// Which head (or what stands before the vent) changed most from use to bench; the rule of `study::compare`.
Cause cause_of(const study::VentResult& use, const study::VentResult& bench);

/// What would mislead there, each with its numbers.
std::vector<Trap> traps_of(const Scene& scene, const VentView& view);

/// Anemometers right before a vent, with the flow solved anew behind each vane.
std::vector<InstrumentView> instruments_at(const Scene& scene, int vent);

}  // namespace tuft::bench
