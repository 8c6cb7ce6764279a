// The fields of results of plan layers, slices and the bench, as lists that writers walk
// (solver/numerics/result_field.hpp). Lists of solved conditions stand below their structs in
// solver/study/result.hpp.
#pragma once

#include "solver/experiment/bench_report.hpp"
#include "solver/flow2d/section_result.hpp"
#include "solver/numerics/result_field.hpp"
#include "solver/study/field_comparison.hpp"
#include "tools/io/bench.hpp"

namespace tuft::study {

template <class Visit>
void for_each_field(const Side& side, Visit&& visit) {
  visit({"role", "", "role", "as in `vents[]`"}, side.role);
  visit({"firm", "", "", "as there"}, side.firm);
  visit({"share", "-", "", "larger gross flow over the through-flow"}, side.share);
  visit({"face_velocity", "m/s", "", "larger gross flow over density and free area"}, side.face_velocity);
  visit({"inflow", "kg/s", "gross in", "gross flow into the device"}, side.inflow);
  visit({"outflow", "kg/s", "gross out", "gross flow out of it"}, side.outflow);
  visit({"temperature_in", "K", "temperature in", "of the air outside that enters, or would"},
        side.temperature_in);
  visit({"temperature_out", "K", "temperature out", "of the air inside that leaves, or would"},
        side.temperature_out);
}

template <class Visit>
void for_each_field(const VentComparison& row, Visit&& visit) {
  visit({"shut", "", "shut", "no way through at all"}, row.shut);
  visit({"roles_differ", "", "roles differ", "network and field give it different roles"}, row.roles_differ);
}

/// How far the field is from the network.
template <class Visit>
void for_each_difference(const VentComparison& row, Visit&& visit) {
  visit({"flow_apart_of_through_flow", "-", "net flow apart over through-flow",
         "net flow, of the through-flow"},
        row.of_through_flow);
  visit({"", "-", "net flow apart over own flow", "net flow, of the network's larger gross flow here"},
        row.flow);
  visit({"temperature_apart", "K", "temperature apart", "of the air inside that leaves, or would"},
        row.temperature);
  visit({"drawing_share", "-", "drawing share of area",
         "share of its area through which more enters than leaves"},
        row.drawing_share);
}

}  // namespace tuft::study

namespace tuft::flow2d {

/// Cells of a layer, one value each.
template <class Visit>
void for_each_array(const LayerFields& layer, Visit&& visit) {
  visit({"pressure", "Pa", "", "against still air outside at the same height"}, layer.pressure);
  visit({"temperature", "K", "", "of the air"}, layer.temperature);
  visit({"density", "kg/m3", "", "of the air"}, layer.density);
  visit({"heat", "W/m2", "", "given to the air"}, layer.heat);
  visit({"depth", "m", "", "of the layer"}, layer.depth);
  visit({"height", "m", "", "of the layer's middle over the base"}, layer.height);
}

/// Cells of a slice, one value each.
template <class Visit>
void for_each_array(const SectionResult& slice, Visit&& visit) {
  visit({"pressure", "Pa", "", "against still air of the room at the same height"}, slice.pressure);
  visit({"temperature", "K", "", "of the air"}, slice.temperature);
  visit({"density", "kg/m3", "", "of the air"}, slice.density);
}

}  // namespace tuft::flow2d

namespace tuft::experiment {

/// What a tell-tale that can be held there would show; what a person would say of it, by its chances,
/// follows.
template <class Visit>
void for_each_field(const TellTaleView& view, Visit&& visit) {
  visit({"air", "m/s", "air", "even speed that moves it as the air there does, + away from the device"},
        view.speed);
  visit({"by_law", "m/s", "air by law", "the same by the laws of near-vent air"}, view.by_law);
  visit({"by_section", "", "read off", "whether the speed was read off a section"},
        numerics::Either{view.by_section, "section", "law"});
  visit({"lean", "m", "lean away", "of its tip, + away from the device"}, view.lean);
  visit({"seen", "", "seen hung", "at arm's length, in quiet air"}, io::seen_word(view.seen));
  visit({"lean_over_just_seen", "-", "", "its lean over what is just seen of one so wide"}, view.over);
}

template <class Visit>
void for_each_field(const LeanChances& chances, Visit&& visit) {
  visit({"in", "-", "in", "chance that a person would say so"}, chances.in);
  visit({"out", "-", "out", "chance that a person would say so"}, chances.out);
  visit({"still", "-", "still", "chance that a person would say so"}, chances.still);
}

template <class Visit>
void for_each_field(const AirPoint& point, Visit&& visit) {
  visit({"distance", "m", "", "before the vent"}, point.distance);
  visit({"outwards", "m/s", "", "along the outward normal, + away from the device"}, point.outwards);
  visit({"speed", "m/s", "", "of the air there"}, point.speed);
  visit({"upwards", "m/s", "", "against gravity"}, point.upwards);
  visit({"temperature", "K", "", "of the air there"}, point.temperature);
}

}  // namespace tuft::experiment
