#include "solver/flow2d/section_solve.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <utility>

#include "solver/flow2d/section_check.hpp"
#include "solver/flow2d/section_find.hpp"

namespace tuft::section {
namespace {

using field::State;

// A grid of four and of two times the cells' sides comes first.
constexpr double kCoarsest = 4.0, kTwice = 2.0;
// Steps on cells twice as large are for a doubt only.
constexpr int kCoarseSteps = 40;

class SectionSolver {
 public:
  SectionSolver(const geometry::Case& content, const geometry::Condition& condition,
                const SectionGiven& given, const SectionOptions& options)
      : case_(content), condition_(condition), given_(given), options_(options) {}

  SectionResult solve() {
    choose();
    const geometry::Vec3& size = case_.device.size;
    const double body = std::max(size[result_.plane.first()], size[result_.plane.second()]);
    const Model coarsest = make(kCoarsest), twice = make(kTwice), model = make(1.0);
    note_gravity(model);
    const State first = rough_start(coarsest, options_);
    const State rough = rough_flow(twice, carried(coarsest.problem, first, twice.problem), options_);
    const Found found = find_flow(model, carried(twice.problem, rough, model.problem), options_, body);
    const Found coarse = options_.doubt ? find_flow(twice, rough, for_coarse(), body) : Found{};
    result_.closure = options_.closure;
    note_coarse(coarse);
    collect(case_, given_, model, found, &coarse, &result_);
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

  Model make(double coarser) const {
    return make_model(case_, condition_, given_, result_.plane, options_, coarser);
  }

  SectionOptions for_coarse() const {
    SectionOptions out = options_;
    out.newton.max_steps = std::min(out.newton.max_steps, kCoarseSteps);
    out.march_steps /= 2;
    return out;
  }

  void note_coarse(const Found& coarse) {
    if (options_.doubt && coarse.end == SectionEnd::not_converged)
      result_.notes.push_back(
          "on cells twice as large no flow was found, so that nothing tells how far the cells' size matters");
  }

  void note_gravity(const Model& model) {
    const auto& pose = case_.poses[static_cast<std::size_t>(condition_.pose)];
    result_.gravity[0] = model.problem.gravity[0];
    result_.gravity[1] = model.problem.gravity[1];
    result_.gravity_across = std::abs(pose.down()[result_.plane.normal]);
    result_.ambient_density = model.problem.fluid.density;
    result_.ambient_temperature = model.problem.fluid.temperature;
    if (result_.gravity_across > 0.02) {
      char text[120];
      std::snprintf(text, sizeof text, "%.0f %% of gravity points across the plane and is left out",
                    100.0 * result_.gravity_across);
      result_.notes.push_back(text);
    }
  }

  const geometry::Case& case_;
  const geometry::Condition& condition_;
  const SectionGiven& given_;
  const SectionOptions& options_;
  SectionResult result_;
};

}  // namespace

SectionResult solve_section(const geometry::Case& content, const geometry::Condition& condition,
                            const SectionGiven& given, const SectionOptions& options) {
  check_given(content.device, given);
  check_options(options);
  return SectionSolver(content, condition, given, options).solve();
}

}  // namespace tuft::section
