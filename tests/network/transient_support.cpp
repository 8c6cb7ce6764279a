#include "tests/network/transient_support.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <sstream>

namespace tuft::testing {

using namespace network;

Setup lumps(const std::vector<double>& capacity, const std::vector<double>& power) {
  Setup setup;
  setup.graph.ambient.temperature = 300.0;
  for (std::size_t i = 0; i < capacity.size(); ++i) {
    setup.graph.bodies.push_back({"lump-" + std::to_string(i), power[i], capacity[i]});
    setup.load_inputs.body_power.push_back(power[i]);
  }
  setup.start = Eigen::VectorXd::Constant(static_cast<Eigen::Index>(capacity.size()), 300.0);
  return setup;
}

void join(Setup& setup, int a, int b, double conductance) {
  network::HeatLink link;
  link.name = "joint";
  link.a = a;
  link.b = b;
  link.conductance = conductance;
  setup.graph.links.push_back(link);
}

const std::vector<double>& track(const std::vector<Track>& tracks, const std::string& name) {
  const auto found =
      std::find_if(tracks.begin(), tracks.end(), [&](const Track& t) { return t.name == name; });
  INFO("track " << name);
  REQUIRE(found != tracks.end());
  return found->values;
}

double value_at(const History& history, const std::vector<double>& values, double time) {
  const auto after = std::upper_bound(history.time.begin(), history.time.end(), time);
  if (after == history.time.begin()) return values.front();
  if (after == history.time.end()) return values.back();
  const auto i = static_cast<std::size_t>(after - history.time.begin());
  const double share = (time - history.time[i - 1]) / (history.time[i] - history.time[i - 1]);
  return values[i - 1] + share * (values[i] - values[i - 1]);
}

std::string told(const TransientResult& transient) {
  std::ostringstream text;
  for (const Event& event : transient.events) text << event.time << " s: " << event.text << "\n";
  text << transient.message;
  return text.str();
}

}  // namespace tuft::testing
