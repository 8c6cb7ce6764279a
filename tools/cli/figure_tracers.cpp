#include "tools/cli/figure_tracers.hpp"

#include "solver/study/field_given.hpp"
#include "solver/flow2d/layer_solve.hpp"
#include "solver/flow2d/section_solve.hpp"
#include "tools/figure/svg.hpp"
#include "tools/io/tracer_film.hpp"
#include "tools/io/utf8.hpp"
#include "tools/cli/exit_status.hpp"
#include "tools/cli/field_options.hpp"

namespace tuft::program {
namespace {

[[noreturn]] void no_field(const output::FieldRun& field, const std::string& reason) {
  throw Failure(
      ExitStatus::no_solution,
      output::printable("no field of condition '" + output::network_result(field).name + "': " + reason));
}

void solve_layers(output::FieldRun& field) {
  plan::PlanOptions wanted;
  wanted.cell = field.cell;
  field.plan = plan::solve_plan(field.run.content, output::condition_of(field),
                                agreement::given_of(output::network_result(field)), wanted);
  if (field.plan.end == plan::PlanEnd::no_network || field.plan.end == plan::PlanEnd::not_converged)
    no_field(field, field.plan.message);
  field.agreement = agreement::agree(field.run.content, output::network_result(field), field.plan);
}

void solve_slice(output::FieldRun& field) {
  output::SectionRun slice;
  slice.result = section::solve_section(field.run.content, output::condition_of(field),
                                        agreement::section_given_of(output::network_result(field)), {});
  if (!slice.result.usable()) no_field(field, slice.result.message);
  field.section = std::move(slice);
}

}  // namespace

std::vector<std::string> tracer_frames(const output::Run& run, TracerView view, const PictureSize& size) {
  output::FieldRun field;
  field.run = run;
  field.cell = default_cell(run.content.device);
  std::vector<std::string> documents;
  try {
    view == TracerView::plan ? solve_layers(field) : solve_slice(field);
    for (const figure::FieldMap& map :
         view == TracerView::plan ? output::tracer_maps(field) : output::section_tracer_maps(field))
      documents.push_back(figure::framed(figure::field_map(map), size.width, size.height));
  } catch (const output::NothingFlows& error) {
    no_field(field, error.what());
  }
  return documents;
}

}  // namespace tuft::program
