#include "solver/flow2d/section_solve.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <stdexcept>
#include <string>
#include <utility>

#include "geometry/device/attitude.hpp"
#include "solver/flow2d/section_run.hpp"

namespace tuft::flow2d {
namespace {

// A grid of four and of two times the cells' sides comes first.
constexpr double kCoarsest = 4.0, kTwice = 2.0;
// Steps on cells twice as large are for an uncertainty only.
constexpr int kCoarseSteps = 40;

void refuse(const std::string& what) { throw std::invalid_argument(what); }

void check_number(double value, double least, const char* name) {
  if (std::isfinite(value) && value >= least) return;
  char text[120];
  std::snprintf(text, sizeof text, "%s is %g; it must be finite and at least %g", name, value, least);
  refuse(text);
}

void check_boundary_data(const geometry::Device& device, const SectionBoundaryData& given) {
  if (!given.vents.empty() && given.vents.size() != device.vents.size())
    refuse("SectionGiven::vents has " + std::to_string(given.vents.size()) + " entries; the device has " +
           std::to_string(device.vents.size()) + " vents");
  if (!given.skins.empty() && given.skins.size() != device.skins.size())
    refuse("SectionGiven::skins has " + std::to_string(given.skins.size()) + " entries; the device has " +
           std::to_string(device.skins.size()) + " patches of skin");
  for (const VentBoundaryData& v : given.vents) {
    check_number(v.inflow, 0.0, "a vent's inflow");
    check_number(v.outflow, 0.0, "a vent's outflow");
    check_number(v.temperature, 0.0, "the temperature of a vent's air");
  }
  for (double t : given.skins) check_number(t, 0.0, "a skin's temperature");
  check_number(given.chassis, 0.0, "the chassis' temperature");
}

void check_options(const SectionOptions& o) {
  check_number(o.finest, 1e-5, "SectionOptions::finest");
  check_number(o.growth, 0.01, "SectionOptions::growth");
  check_number(o.margin, 10.0 * o.finest, "SectionOptions::margin");
  check_number(o.gap_cells, 2.0, "SectionOptions::gap_cells");
  check_number(o.march_steps, 0.0, "SectionOptions::march_steps");
}

void check_plane(const geometry::Device& device, const Plane& plane) {
  if (plane.normal < 0 || plane.normal > 2) refuse("Plane::normal must be 0 (x), 1 (y) or 2 (z)");
  if (std::isfinite(plane.at) && plane.at >= 0.0 && plane.at <= device.size[plane.normal]) return;
  char text[120];
  std::snprintf(text, sizeof text, "a plane at %c = %g m misses the device, which reaches from 0 to %g m",
                "xyz"[plane.normal], plane.at, device.size[plane.normal]);
  refuse(text);
}

class SectionSolver {
 public:
  SectionSolver(const geometry::Case& content, const geometry::Condition& condition,
                const SectionBoundaryData& given, const SectionOptions& options)
      : case_(content), condition_(condition), given_(given), options_(options) {}

  SectionResult solve() {
    choose();
    const geometry::Vec3& size = case_.device.size;
    const double body = std::max(size[result_.plane.first()], size[result_.plane.second()]);
    SectionModel coarsest = make(kCoarsest), twice = make(kTwice), model = make(1.0);
    note_gravity(model);
    SingleGridTask grids({&coarsest.problem, &twice.problem, &model.problem});
    Driver driver(&grids, thick_air_first());
    Fields first = grids.start(0);
    driver.approach(0, false, options_.newton, &first);
    Fields rough = grids.carried(0, first);
    driver.approach(1, true, options_.newton, &rough);
    const Found found = find_flow(model, &driver, 2, grids.carried(1, rough), options_, body);
    const Found coarse =
        options_.uncertainty ? find_flow(twice, &driver, 1, rough, for_coarse(), body) : Found{};
    result_.closure = options_.closure;
    note_coarse(coarse);
    collect(case_, model, found, &coarse, &result_);
    return std::move(result_);
  }

 private:
  void choose() {
    if (options_.plane) {
      check_plane(case_.device, *options_.plane);
      result_.plane = *options_.plane;
      result_.why_plane = "as asked for";
      return;
    }
    const PlaneChoice choice = choose_plane(case_, condition_, given_);
    result_.plane = choice.plane;
    result_.why_plane = choice.why;
  }

  SectionModel make(double coarser) const {
    return make_model(case_, condition_, given_, result_.plane, options_, coarser);
  }

  SectionOptions for_coarse() const {
    SectionOptions out = options_;
    out.newton.max_steps = std::min(out.newton.max_steps, kCoarseSteps);
    out.march_steps /= 2;
    return out;
  }

  void note_coarse(const Found& coarse) {
    if (options_.uncertainty && coarse.end == SectionEnd::not_converged)
      result_.notes.push_back(
          "on cells twice as large no flow was found, so the effect of the cell size is not known");
  }

  void note_gravity(const SectionModel& model) {
    const geometry::Pose pose = geometry::attitude_of(case_, condition_);
    result_.gravity[0] = model.problem.gravity[0];
    result_.gravity[1] = model.problem.gravity[1];
    result_.gravity_across = std::abs(pose.down()[result_.plane.normal]);
    result_.ambient_density = model.problem.fluid.density;
    result_.ambient_temperature = model.problem.fluid.temperature;
    if (*case_.room.draught.speed > 0.0)
      result_.notes.push_back("the room's draught is left out: the section's own air is still");
    if (result_.gravity_across > 0.02) {
      char text[120];
      std::snprintf(text, sizeof text, "%.0f %% of gravity points across the plane and is left out",
                    100.0 * result_.gravity_across);
      result_.notes.push_back(text);
    }
  }

  const geometry::Case& case_;
  const geometry::Condition& condition_;
  const SectionBoundaryData& given_;
  const SectionOptions& options_;
  SectionResult result_;
};

}  // namespace

SectionResult solve_section(const geometry::Case& content, const geometry::Condition& condition,
                            const SectionBoundaryData& given, const SectionOptions& options) {
  check_boundary_data(content.device, given);
  check_options(options);
  return SectionSolver(content, condition, given, options).solve();
}

}  // namespace tuft::flow2d
