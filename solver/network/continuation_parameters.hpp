// One device in one condition with its parameters turned: fan speed, power, tilt.
#pragma once

#include <functional>
#include <utility>
#include <vector>

#include "solver/network/controls.hpp"

namespace tuft::network {

/// What can be turned to see where a state ends.
enum class ContinuationParameter { fan_speed, power, tilt };

/// Where the parameters stand; as made, they stand at the condition itself.
struct Setting {
  double fan_speed = 1.0;  ///< multiplies every fan's speed, tables of followed sensors included [-], >= 0
  double power = 1.0;      ///< multiplies all heat sources [-], >= 0
  double tilt = 0.0;       ///< turned so far about the tilt axis [rad]
};

double value(const Setting& setting, ContinuationParameter parameter);
/// The setting with one parameter at another value.
Setting with(Setting setting, ContinuationParameter parameter, double value);

/// A network with its heat paths at one setting.
struct Model {
  Network net;
  HeatLayout layout;
};
/// As the condition has it, with nominal values.
Model model_of(const geometry::Case& content, const geometry::Condition& condition);
using ModelAt = std::function<Model(const Setting&)>;

/// The models of a case in a condition; `axis` is the unit vector in the device frame it is tilted about.
/// Holds copies of nothing: case and condition must outlive it.
ModelAt models_of(const geometry::Case& content, const geometry::Condition& condition,
                  const geometry::Vec3& axis);

/// The device axis about which tilting moves the openings' heights most.
geometry::Vec3 tilt_axis(const Graph& graph);

/// True if both graphs consist of the same nodes, openings, fans and bodies in the same order.
bool same_elements(const Graph& a, const Graph& b);
/// ... and of the same links.
bool same_layout(const Graph& a, const Graph& b);

/// A state of one graph as a start in another: what has the same name keeps its values, the rest is at rest
/// and at ambient temperature.
State carried_over(const Graph& from, const State& x, const Graph& to);

/// Temperatures that limits hold, with their values [K].
using Held = std::vector<std::pair<int, double>>;

/// Gives a model the powers that limits have left its sources, and says which temperatures are held.
Held apply_outcomes(const geometry::Case& content, const std::vector<SourceOutcome>& sources, Model& model);

/// True while no limit asks for another outcome than `sources` at a state of the model, of which
/// `asked` holds the powers before any limit.
bool outcomes_stand(const geometry::Case& content, const std::vector<SourceOutcome>& sources,
                    const Model& asked, const Equations& equations, const State& x);

}  // namespace tuft::network
