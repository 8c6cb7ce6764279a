#include "solver/flow2d/layer_means.hpp"

#include <algorithm>

#include "solver/flow2d/layer_collect.hpp"

namespace tuft::flow2d {
namespace {

constexpr double kSwingStays = 1.25;  // of a swing in the second half over that in the first
constexpr double kNoSwing = 1e-3;     // of the through-flow

/// *to += factor * x.
void add_scaled(double factor, const Fields& x, Fields* to) {
  const auto add = [&](const Array2& a, Array2* b) {
    for (std::size_t k = 0; k < a.size(); ++k) (*b)[k] += factor * a[k];
  };
  for (std::size_t l = 0; l < x.layers.size(); ++l) {
    const State& a = x.layers[l];
    State& b = to->layers[l];
    for (std::size_t d = 0; d < 2; ++d) add(a.velocity[d], &b.velocity[d]);
    add(a.pressure, &b.pressure);
    add(a.temperature, &b.temperature);
  }
  for (std::size_t k = 0; k < x.own.size(); ++k) to->own[k] += factor * x.own[k];
}

/// VentSums hold temperatures times the flow that has them.
void add_vent(double factor, const VentFlows& x, VentFlows* to) {
  to->inflow += factor * x.inflow;
  to->outflow += factor * x.outflow;
  to->exchange += factor * x.exchange;
  to->temperature_in += factor * x.inflow * x.temperature_in;
  to->temperature_out += factor * x.outflow * x.temperature_out;
  to->face_velocity += factor * x.face_velocity;
  to->drawing_share += factor * x.drawing_share;
  for (std::size_t c = 0; c < x.cells.size(); ++c) {
    to->cells[c].inflow += factor * x.cells[c].inflow;
    to->cells[c].outflow += factor * x.cells[c].outflow;
  }
}

void add_link(double factor, const LinkFlow& x, LinkFlow* to) {
  to->flow += factor * x.flow;
  to->volume_flow += factor * x.volume_flow;
  to->pressure_rise += factor * x.pressure_rise;
  to->temperature += factor * x.temperature;
}

void add_flows(double factor, const PlanResult& x, PlanResult* to) {
  for (std::size_t v = 0; v < x.vents.size(); ++v) add_vent(factor, x.vents[v], &to->vents[v]);
  for (std::size_t f = 0; f < x.fans.size(); ++f) add_link(factor, x.fans[f], &to->fans[f]);
  for (std::size_t p = 0; p < x.passages.size(); ++p) add_link(factor, x.passages[p], &to->passages[p]);
}

/// The same lists with nothing in them.
PlanResult emptied(const PlanResult& like) {
  PlanResult out = like;
  for (VentFlows& v : out.vents) {
    VentFlows none;
    none.area = v.area;
    none.cells = v.cells;
    for (CellFlux& c : none.cells) c.inflow = c.outflow = 0.0;
    v = std::move(none);
  }
  for (std::vector<LinkFlow>* list : {&out.fans, &out.passages})
    for (LinkFlow& f : *list) {
      const std::string name = f.name;
      f = LinkFlow{};
      f.name = name;
    }
  return out;
}

}  // namespace

void Means::add(double time, const Fields& fields, const PlanResult& flows) {
  if (!any_) {
    any_ = true;
    first_ = time;
    sum_ = fields;
    add_scaled(-1.0, fields, &sum_);
    flow_sum_ = emptied(flows);
  } else {
    const double half = 0.5 * (time - last_);
    add_scaled(half, previous_, &sum_);
    add_scaled(half, fields, &sum_);
    add_flows(half, previous_flows_, &flow_sum_);
    add_flows(half, flows, &flow_sum_);
  }
  times_.push_back(time);
  nets_.emplace_back();
  for (const VentFlows& v : flows.vents) nets_.back().push_back(v.inflow - v.outflow);
  last_ = time;
  previous_ = fields;
  previous_flows_ = flows;
}

Fields Means::fields() const {
  if (!(span() > 0.0)) return previous_;
  Fields out = sum_;
  add_scaled(1.0 / span() - 1.0, sum_, &out);
  return out;
}

PlanResult Means::flows() const {
  if (!(span() > 0.0)) return previous_flows_;
  PlanResult out = emptied(flow_sum_);
  add_flows(1.0 / span(), flow_sum_, &out);
  out.through_flow = 0.0;
  for (const VentFlows& v : out.vents) out.through_flow += v.inflow;
  for (std::size_t k = 0; k < out.vents.size(); ++k) {
    VentFlows& v = out.vents[k];
    const VentFlows &sum = flow_sum_.vents[k], &last = previous_flows_.vents[k];
    v.temperature_in = sum.inflow > 0.0 ? sum.temperature_in / sum.inflow : last.temperature_in;
    v.temperature_out = sum.outflow > 0.0 ? sum.temperature_out / sum.outflow : last.temperature_out;
    v.share = out.through_flow > 0.0 ? std::min(std::max(v.inflow, v.outflow) / out.through_flow, 1.0) : 0.0;
  }
  return out;
}

std::vector<double> Means::amplitudes() const { return swings_between(first_, last_); }

bool Means::amplitudes_stay(double through_flow) const {
  const double middle = 0.5 * (first_ + last_);
  const std::vector<double> before = swings_between(first_, middle), after = swings_between(middle, last_);
  for (std::size_t v = 0; v < before.size(); ++v)
    if (after[v] > std::max(kSwingStays * before[v], kNoSwing * through_flow)) return false;
  return true;
}

std::vector<double> Means::swings_between(double from, double to) const {
  const std::size_t n = nets_.empty() ? 0 : nets_.front().size();
  std::vector<double> low(n, 1e300), high(n, -1e300), out(n, 0.0);
  for (std::size_t k = 0; k < times_.size(); ++k) {
    if (times_[k] < from || times_[k] > to) continue;
    for (std::size_t v = 0; v < n; ++v) {
      low[v] = std::min(low[v], nets_[k][v]);
      high[v] = std::max(high[v], nets_[k][v]);
    }
  }
  for (std::size_t v = 0; v < n; ++v) out[v] = std::max(0.0, 0.5 * (high[v] - low[v]));
  return out;
}

double FlowMonitor::passed(const March& march, const MarchStep& step) {
  ++steps_;
  flows_ = PlanResult{};
  flows_.ambient_temperature = flow_.coupling().fluid().temperature;
  collect_flows(device_, flow_.model(), march.fields(), flow_.coupling(), &flows_);
  const double passages = flows_.through_flow / flow_.air() * step.step;
  passed_ += passages;
  return passages;
}

bool FlowMonitor::take(const March& march, const MarchStep&) {
  if (2 * steps_ < most_steps_ && 2.0 * passed_ < most_passages_)
    begun_ = passed_;
  else
    means_.add(march.time(), march.fields(), flows_);
  return passed_ >= most_passages_;
}

}  // namespace tuft::flow2d
