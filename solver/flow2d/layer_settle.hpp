// What is done where Newton's steps find no steady state: the reason, and a run in time.
#pragma once

#include <functional>
#include <string>

#include "geometry/device/device.hpp"
#include "solver/flow2d/layer_course.hpp"
#include "solver/flow2d/layer_means.hpp"

namespace tuft::plan {

/// Why steps led nowhere, as a sentence without its full stop, from how the residual went.
std::string why_no_steady_state(const field::NewtonSummary& summary, bool limited);

/// Progress of a run in time.
struct SettleStep {
  int steps = 0;
  double time = 0.0, step = 0.0;  ///< [s]
  double unrest = 0.0;            ///< how far the fields go in the time the air takes to pass [-]
  double residual = 0.0;
};

struct SettleOptions {
  MarchOptions march = coarse_in_time();
  int most_steps = 300;    ///< half of them to come to rest, half to be averaged
  double passages = 80.0;  ///< the same in times the air takes to pass the device
  std::function<void(const SettleStep&)> observer;
};

enum class SettleEnd {
  steady,    ///< Newton's steps found the steady state from where the run had come
  restless,  ///< it goes on changing: means over the second half
  brief,     ///< the same, but the second half is too short a span for a mean
  failed     ///< no step was found, however short
};

struct Settled {
  SettleEnd end = SettleEnd::failed;
  int steps = 0;
  double time = 0.0;                ///< run through [s]
  double passages = 0.0;            ///< times the air passed the device in the second half [-]
  double unrest = 0.0;              ///< at the end [-]
  double mass = 0.0, energy = 0.0;  ///< worst of all steps
  Means means;                      ///< of the second half
};

/// Runs the layers in time from `start` on. Whenever they come nearer to rest, `find_steady` is called with
/// the fields; the run ends where it returns true.
Settled settle_in_time(const geometry::Device& device, Model model, const Magnitudes& magnitudes,
                       const Fields& start, const Given& given, const SettleOptions& options,
                       const std::function<bool(const Fields&)>& find_steady);

}  // namespace tuft::plan
