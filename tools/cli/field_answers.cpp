#include "tools/cli/field_answers.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <set>

#include "solver/study/refine.hpp"
#include "tools/cli/field.hpp"
#include "tools/cli/load.hpp"
#include "tools/io/field_run.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/words.hpp"

namespace tuft::cli {
namespace {

using Json = nlohmann::json;

constexpr double kAnswerCells = 6000.0;  // a layer, on the finer grid: a second or a few
constexpr double kSizes = 2.0;           // cells of the coarser grid over those of the finer
constexpr double kLies = 0.5;            // cosine between the layers' height and gravity (judgement)
constexpr double kHigh = 0.5;            // height of a device over its shorter side (judgement)

// What was found in one condition, wherever it comes from.
struct Found {
  int condition = 0;
  study::FieldComparison comparison;
  study::FieldSupport support;
  std::string basis;  // what the support rests on, for a sentence; empty: nothing
};

std::string name_of(const io::Run& run, int condition) {
  return study::quoted(io::at(run.content.conditions, condition).name);
}

double largest_difference(const study::FieldCorrection& correction) {
  double most = 0.0;
  for (const auto& vent : correction.vents)
    most = std::max({most, std::abs(vent.inflow), std::abs(vent.outflow)});
  return most;
}

std::string disagreement(const io::Run& run, const Found& found, const study::FieldCorrection& correction) {
  if (correction.roles_differ.empty())
    return name_of(run, found.condition) +
           ": network and field give every vent the same role, but gross flows differ by up to " +
           io::significant(100.0 * largest_difference(correction), 2, 0) + " % of the through-flow.";
  std::vector<std::string> vents;
  for (const int vent : correction.roles_differ) {
    const study::VentComparison& row = io::at(found.comparison.vents, vent);
    vents.push_back(io::shown_vent(run.content, row.vent) + " (" + io::role_text(row.field.role) +
                    " by the field, " + io::role_text(row.network.role) + " by the network)");
  }
  return name_of(run, found.condition) + ": network and field disagree about " + io::listed(vents) + ".";
}

// Which of the two the verdicts go by, and why.
std::string sentence_of(const io::Run& run, const Found& found, const study::FieldCorrection& correction) {
  if (study::agrees(run.content, found.comparison))
    return name_of(run, found.condition) +
           ": network and field agree. Every vent has the same role, and no flow differs by more than 1 % of "
           "the through-flow.";
  return disagreement(run, found, correction) +
         (correction.backed ? " The field decides: " + found.basis + "."
                            : " The verdicts take anything between the two as possible" +
                                  (found.basis.empty() ? std::string(".") : ": " + found.basis + "."));
}

// --- solved here ----------------------------------------------------------------------------------------

double answer_cell(const geometry::Device& device) {
  return std::max(default_cell(device), std::sqrt(device.size.x() * device.size.y() / kAnswerCells));
}

io::FieldRun solve_at(const io::Run& run, const study::ConditionResult& network, double cell, bool show) {
  io::FieldRun field;
  field.run.content = run.content;
  field.run.conditions = {network};
  field.cell = cell;
  solve_layers(field, show ? Showing::on_terminal : Showing::never, "");
  return field;
}

bool is_stable(const flow2d::Steadiness& state) { return state.known && state.growth < 0.0; }

double largest_change(const study::Refined& refined) {
  double most = 0.0;
  for (const study::VentRefined& vent : refined.vents) most = std::max(most, std::abs(vent.of_through_flow));
  return most;
}

bool same_state(const study::FieldComparison& comparison) {
  return comparison.start_apart <= study::kSameState;
}

std::string basis_of(const study::Refined& refined, const std::string& sizes) {
  if (!same_state(refined.comparison)) return "they are in two different steady states";
  if (refined.roles_differ > 0) return "the field's roles change between " + sizes;
  if (!refined.steady && !refined.swing_is_whole)
    return "the field comes to no steady state, and its swings are not known whole";
  if (!refined.steady)
    return "its roles are the same on " + sizes + ", and the air swings about them by " +
           io::significant(100.0 * refined.swing, 2, 2) + " % of the through-flow to either side";
  if (!refined.steadiness.known) return "it is not known whether the field's steady state is stable";
  if (!is_stable(refined.steadiness)) return "the field's steady state is not stable";
  return "its roles are the same on " + sizes + ", and its steady state is stable";
}

// Plan layers average over their height. Where a high device lies and no fan drives, its air lies in layers
// that they cannot tell.
bool averages_over_layers(const geometry::Case& content, const study::ConditionResult& network) {
  const geometry::Device& device = content.device;
  const geometry::Condition& condition = io::at(content.conditions, network.condition);
  const bool lies = std::abs(io::at(content.poses, condition.pose).down().z()) > kLies;
  const bool high = device.size.z() > kHigh * std::min(device.size.x(), device.size.y());
  return lies && high &&
         std::none_of(network.fans.begin(), network.fans.end(),
                      [](const study::FanResult& fan) { return fan.speed > 0.0; });
}

Found found_here(const io::Run& run, const study::ConditionResult& network, bool show) {
  flow2d::PlanOptions wanted;
  wanted.cell = kSizes * answer_cell(run.content.device);
  const io::FieldRun coarse = solve_at(run, network, wanted.cell, show);
  study::Refined fine = study::refine(run.content, network, coarse.plan, wanted);
  // Where the two agree nothing rests on the field; where they don't, only what the air does in the end
  // counts.
  if (fine.found && fine.steady && fine.steadiness.known && !is_stable(fine.steadiness) &&
      !study::agrees(run.content, fine.comparison)) {
    wanted.leave_all = true;
    fine = study::refine(run.content, network, coarse.plan, wanted);
  }
  Found out{network.condition, fine.found ? fine.comparison : coarse.comparison, {}, ""};
  if (!fine.found) {
    out.basis = "on smaller cells the field has no solution";
    return out;
  }
  out.support = {
      fine.roles_differ == 0 && coarse.plan.usable(), largest_change(fine),
      (fine.steady ? is_stable(fine.steadiness) : fine.swing_is_whole) && same_state(fine.comparison),
      fine.swing};
  out.basis = basis_of(fine, "cells of " + io::length_number(wanted.cell, run.content.units, 2) + " and " +
                                 io::length_text(fine.cell, run.content.units, 2));
  if (averages_over_layers(run.content, network)) {
    out.support.refined = false;
    out.basis = "the field averages over a height of " +
                io::length_text(run.content.device.size.z(), run.content.units, 2) +
                ", in which warm air lies above cool air";
  }
  return out;
}

bool network_is_unsure(const geometry::Case& content, const study::ConditionResult& result) {
  return std::any_of(result.vents.begin(), result.vents.end(), [&](const study::VentResult& vent) {
    return !content.device.vents[static_cast<std::size_t>(vent.vent)].is_leak && vent.unsure;
  });
}

// --- read from a folder ---------------------------------------------------------------------------------

[[noreturn]] void refuse_file(const std::string& file, const std::string& why) { refuse(file + ": " + why); }

Json read_json(const std::string& file) {
  std::ifstream stream(file, std::ios::binary);
  if (!stream) refuse_file(file, "can't be opened; --field names a folder that tuft field has written");
  Json json = Json::parse(stream, nullptr, false);
  if (json.is_discarded()) refuse_file(file, "is no JSON");
  return json;
}

// A difference tells how far the network may be off only where both found the same state of the whole
// problem.
void require_comparable(const std::string& file, const Json& field) {
  const std::string condition = field.at("condition").get<std::string>();
  const std::string end = field.at("end").get<std::string>();
  if (end != "converged" && end != "averaged")
    refuse_file(file, "the field of condition '" + condition +
                          "' holds only part of the air's inertia, so its difference from the network is no "
                          "measure of its uncertainty");
  if (!field.at("network_and_field").at("same_state").get<bool>())
    refuse_file(file, "field and network of condition '" + condition +
                          "' are two different steady states, so their difference is no measure of the "
                          "uncertainty of either");
}

study::Side side_of(const Json& json) {
  study::Side out;
  const auto role = json.at("role").get<std::string>();
  const std::optional<geometry::Role> known = geometry::kind_called<geometry::Role>(role);
  if (!known) throw std::invalid_argument("'" + role + "' is no role");
  out.role = *known;
  out.inflow = json.at("inflow_kg_s").get<double>();
  out.outflow = json.at("outflow_kg_s").get<double>();
  out.face_velocity = json.at("face_velocity_m_s").get<double>();
  out.temperature_out = json.at("temperature_out_K").get<double>();
  return out;
}

study::FieldComparison comparison_of(const geometry::Case& content, const Json& vents) {
  study::FieldComparison out;
  out.vents.resize(content.device.vents.size());
  if (vents.size() != out.vents.size()) throw std::invalid_argument("it has another number of vents");
  for (const Json& row : vents) {
    const int v = find_vent(content, row.at("vent").get<std::string>());
    study::VentComparison& vent = out.vents[static_cast<std::size_t>(v)];
    vent.vent = v;
    vent.network = side_of(row.at("network"));
    vent.field = side_of(row.at("field"));
    vent.roles_differ = vent.network.role != vent.field.role;
    vent.temperature = vent.field.temperature_out - vent.network.temperature_out;
  }
  return out;
}

// What the folder shows of its own answer: smaller cells, where it was refined, and whether it is stable.
study::FieldSupport support_in(const Json& field) {
  study::FieldSupport out;
  if (field.contains("refined") && field.at("refined").at("found").get<bool>()) {
    const Json& refined = field.at("refined");
    out.refined = refined.at("roles_differ") == 0;
    for (const Json& vent : refined.at("vents"))
      out.cell_change =
          std::max(out.cell_change, std::abs(vent.at("flow_apart_of_through_flow").get<double>()));
  }
  if (field.at("end") == "averaged") {
    const Json& in_time = field.at("in_time");
    out.stable = in_time.at("swings_are_whole").get<bool>();
    const double through = field.at("through_flow_kg_s").get<double>();
    for (const Json& vent : in_time.at("swings"))
      if (through > 0.0) out.swing = std::max(out.swing, vent.at("amplitude_kg_s").get<double>() / through);
    return out;
  }
  const Json& stability = field.at("stability");
  out.stable = stability.at("known").get<bool>() && stability.at("stable").get<bool>();
  return out;
}

Found found_in(const io::Run& run, const std::string& folder) {
  const std::string file = (std::filesystem::path(folder) / "results.json").string();
  const Json json = read_json(file);
  try {
    const Json& field = json.at("field");
    require_comparable(file, field);
    Found out;
    out.condition = find_condition(run.content, field.at("condition").get<std::string>());
    out.comparison = comparison_of(run.content, field.at("network_and_field").at("vents"));
    out.support = support_in(field);
    if (out.support.backed())
      out.basis = "its roles are the same on smaller cells, and its steady state is stable";
    return out;
  } catch (const Json::exception&) {
    refuse_file(file,
                "has no whole field.network_and_field; --field names a folder that tuft field has written");
  } catch (const std::invalid_argument& fault) {
    refuse_file(file, fault.what());
  }
}

// ---------------------------------------------------------------------------------------------------------

void add(const io::Run& run, const Found& found, FieldAnswers& out) {
  const auto& sides = found.comparison.vents;
  if (std::all_of(sides.begin(), sides.end(), [](const auto& side) { return side.network.inflow <= 0.0; })) {
    out.sentences.push_back(name_of(run, found.condition) +
                            ": nothing flows in the network. What is said of it rests on the network alone.");
    return;
  }
  study::FieldCorrection correction =
      study::correction_of(run.content, found.condition, found.comparison, found.support);
  out.sentences.push_back(sentence_of(run, found, correction));
  if (!study::agrees(run.content, found.comparison)) {
    out.corrections.push_back(correction);
  } else if (correction.backed) {  // it decides all the same: the network has right what it may have wrong
    correction.weight = {};
    correction.weight.nominal = 1.0;
    out.corrections.push_back(correction);
  }
}

std::set<int> conditions_of_claims(const geometry::Case& content, const std::vector<int>& claims) {
  std::set<int> out;
  for (const int claim : claims)
    for (const int condition : conditions_of(io::at(content.claims, claim))) out.insert(condition);
  return out;
}

}  // namespace

void add_field_options(CLI::App& command, FieldChoice& choice) {
  add_value_option(command, "--field", choice.folder, "DIR",
                   "Folder that tuft field has written: its answer is set beside the network's");
  command
      .add_flag("--no-field", choice.none,
                "Never solve the field; without this it is solved where the network is unsure")
      ->excludes("--field");
}

FieldAnswers field_answers(const io::Run& run, const std::vector<int>& claims, const FieldChoice& choice,
                           bool show_progress) {
  FieldAnswers out;
  if (choice.none) return out;
  const int given = choice.folder.empty() ? -1 : [&] {
    const Found found = found_in(run, choice.folder);
    add(run, found, out);
    return found.condition;
  }();
  const std::set<int> needed = conditions_of_claims(run.content, claims);
  const auto alone = [&](int condition) {
    out.sentences.push_back(
        name_of(run, condition) +
        ": the network is unsure, and the field has no solution. What is said of it rests "
        "on the network alone.");
  };
  for (const study::ConditionResult& network : run.conditions) {
    if (needed.count(network.condition) == 0 || network.condition == given || !network.report.converged)
      continue;
    if (!network_is_unsure(run.content, network)) continue;
    try {
      add(run, found_here(run, network, show_progress), out);
    } catch (const Failure&) {
      alone(network.condition);
    } catch (const std::invalid_argument&) {  // no cells of a few thousand fit this device
      alone(network.condition);
    }
  }
  return out;
}

std::vector<int> claims_left_to_field(const io::Run& run, const std::vector<int>& claims) {
  std::vector<int> out;
  for (const int claim : claims) {
    const std::set<int> needed = conditions_of_claims(run.content, {claim});
    if (std::any_of(run.conditions.begin(), run.conditions.end(), [&](const study::ConditionResult& result) {
          return needed.count(result.condition) > 0 && result.report.converged &&
                 network_is_unsure(run.content, result);
        }))
      out.push_back(claim);
  }
  return out;
}

}  // namespace tuft::cli
