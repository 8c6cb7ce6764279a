// tuft learn: what is known of a case after something was measured.
#include <CLI/CLI.hpp>
#include <algorithm>
#include <cmath>
#include <filesystem>
#include <set>

#include "geometry/casefile/observations.hpp"
#include "geometry/casefile/quantity.hpp"
#include "geometry/casefile/rewrite.hpp"
#include "geometry/device/inputs.hpp"
#include "solver/experiment/learned_spread.hpp"
#include "solver/physics/anemometer.hpp"
#include "tools/cli/console.hpp"
#include "tools/cli/count_line.hpp"
#include "tools/cli/load.hpp"
#include "tools/cli/options.hpp"
#include "tools/cli/sampling.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/uncertainty.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/words.hpp"

namespace tuft::cli {
namespace {

struct LearnCommand {
  CaseArgument given;
  std::string observations;
  OutOption out;
  int samples = 2048;
  bool force = false;
  bool inputs_only = false;
  std::uint64_t seed = 1;
};

using casefile::Observed;
using experiment::Instrument;

// A line of a file of observations as the measurement it was; `spots` are those of the case. A ruler without
// an error of its own has that of a millimetre scale, or of counted holes.
experiment::Observation observation_of(const casefile::ObservationLine& line,
                                       const std::vector<geometry::Spot>& spots) {
  experiment::Observation out;
  out.reading = line.reading;
  // A lean "out" is along the vent's outward normal, as the observables have it.
  out.what.condition = line.condition;
  out.what.error = line.error;
  experiment::Probe& probe = out.what.probe;
  probe.tool = line.tool;
  probe.distance = line.distance;
  probe.hand_held = line.hand_held;
  const auto read_at = [&probe](Instrument instrument, geometry::Place place) {
    probe.instrument = instrument;
    probe.place = place;
  };
  switch (line.what) {
    case Observed::strip:
    case Observed::anemometer:
    case Observed::air:
      probe.instrument = line.what == Observed::strip        ? Instrument::tell_tale
                         : line.what == Observed::anemometer ? Instrument::anemometer
                                                             : Instrument::thermocouple;
      probe.vent = line.index;
      break;
    case Observed::spot:
      probe.spot = io::at(spots, line.index);
      read_at(Instrument::infrared, probe.spot->on);
      break;
    case Observed::infrared:
      read_at(Instrument::infrared, {geometry::PlaceKind::skin, line.index});
      break;
    case Observed::fan:
      read_at(Instrument::fan_speed, {geometry::PlaceKind::fan_inlet, line.index});
      break;
    case Observed::chip:
      read_at(Instrument::chip_sensor, line.place);
      break;
    case Observed::skin:
      read_at(Instrument::thermocouple, {geometry::PlaceKind::skin, line.index});
      break;
    case Observed::ruler:
      probe.instrument = Instrument::ruler;
      out.what.input = line.index;
      if (out.what.error <= 0.0) {
        const bool holes =
            line.words.find(".open") != std::string::npos || line.words.find(".blocked") != std::string::npos;
        out.what.error = holes ? experiment::kCountSigma : experiment::kRulerSigma;
      }
      break;
  }
  return out;
}

// What an observation's instrument would be shown [SI], as a person reads it; of a strip the even speed it
// answers to, out of the device +. `units` are those of the case's inputs, for rulers.
std::string reading_words(const casefile::ObservationLine& line, double shown,
                          const std::vector<std::string>& units, geometry::UnitSystem system) {
  switch (line.what) {
    case Observed::strip:
      return "air " + std::string(shown < 0.0 ? "in" : "out") + " at " +
             io::speed_text(std::abs(shown), system);
    case Observed::anemometer:
      return io::speed_text(shown, system);
    case Observed::fan:
      return io::significant(60.0 * shown, 4, 0) + " rpm";
    case Observed::ruler: {
      const geometry::Value value{shown, geometry::SpreadKind::none, shown, shown};
      return casefile::write_quantity(value, io::at(units, line.index));
    }
    case Observed::chip:
    case Observed::skin:
    case Observed::air:
    case Observed::spot:
    case Observed::infrared:
      break;
  }
  return io::temperature_text(shown, system);
}

casefile::KnownTools known_tools() {
  casefile::KnownTools tools;
  for (const auto& cut : experiment::tell_tale_kit()) tools.strips.push_back(cut.name);
  for (const auto& tool : physics::anemometers()) tools.anemometers.push_back(tool.name);
  return tools;
}

casefile::ObservationsResult load_observations(const LearnCommand& options, const casefile::CaseFile& file) {
  casefile::ObservationsResult read = casefile::read_observations(options.observations, file, known_tools());
  if (!read.errors.empty()) throw Failure(ExitStatus::bad_input, error_text(read.errors, read.text));
  return read;
}

// What the observations are of, ready to be asked; a reading that can't be had is the person's mistake.
std::vector<experiment::Observable> observables_of(const geometry::Case& content,
                                                   const std::vector<study::ConditionResult>& nominal,
                                                   const casefile::ObservationsResult& read,
                                                   const std::vector<experiment::Observation>& observations,
                                                   const std::string& path) {
  std::vector<experiment::Observable> out;
  std::string faults;
  for (std::size_t j = 0; j < observations.size(); ++j) {
    const int condition = std::max(0, observations[j].what.condition);
    out.emplace_back(content, io::at(nominal, condition), observations[j].what);
    if (out.back().possible()) continue;
    faults += path + ":" + std::to_string(read.lines[j].line) + ": error: '" + read.lines[j].words +
              "' can't have been read: " + out.back().reason() + "\n";
  }
  if (!faults.empty()) throw Failure(ExitStatus::bad_input, faults);
  return out;
}

// Pairs of the case's own inputs, the strongest first.
std::vector<casefile::NewTie> new_ties(const experiment::Learned& learned) {
  constexpr std::size_t kMost = 40;  // of a file that people read (judgement)
  std::vector<casefile::NewTie> out;
  for (const experiment::PosteriorCorrelation& tie : learned.correlations) {
    const study::Input& first = io::at(learned.inputs, tie.first);
    const study::Input& second = io::at(learned.inputs, tie.second);
    if (first.of_case >= 0 && second.of_case >= 0 && out.size() < kMost)
      out.push_back({first.key, second.key, tie.correlation});
  }
  return out;
}

std::string tie_words(const std::vector<casefile::NewTie>& correlations) {
  std::vector<std::string> words;
  for (const auto& tie : correlations)
    words.push_back(tie.first + " with " + tie.second + " (" + (tie.correlation > 0.0 ? "+" : "") +
                    io::significant(tie.correlation, 2, 2) + ")");
  return io::printable(io::listed(words));
}

// What the learned case is made from, and how it is tried.
struct LearnedFrom {
  const casefile::CaseFile& file;
  const experiment::Learned& learned;
  const experiment::Questions& questions;
  const experiment::LearnOptions& how;
  std::string observations;  ///< name of their file
  bool inputs_only = false;
};

// A case file of what was learned, and what it gives the claims when it is solved anew.
struct LearnedCase {
  casefile::Rewritten written;
  std::vector<experiment::ClaimProbability> claims;
  std::size_t together = 0;  ///< values in the section joint-sample
  bool agrees = false;
};

std::vector<double> device_values(const experiment::Learned& learned, int input) {
  const auto column = learned.devices.col(input);
  return {column.begin(), column.end()};
}

std::vector<casefile::NewValue> learned_values(const experiment::Learned& learned) {
  std::vector<casefile::NewValue> values;
  for (const auto& probability : learned.probabilities) {
    const study::Input& input = io::at(learned.inputs, probability.input);
    if (!probability.moved || input.of_case < 0) continue;
    const auto spread = experiment::learned_spread(input, device_values(learned, probability.input));
    values.push_back({input.key, spread.value, spread.steps});
  }
  return values;
}

// The learned case as it will be read, solved anew: what it gives the claims is what `tuft check` will say.
void try_out(const LearnedFrom& from, LearnedCase& out) {
  geometry::Case content = casefile::read_case_text(out.written.text, from.file.path).file.content;
  if (from.inputs_only) geometry::trust_laws(content);
  out.claims = experiment::probabilities_of(content, from.questions, from.how);
  out.agrees = experiment::reproduces(from.learned.after, out.claims);
}

std::string remark_of(const LearnedFrom& from, const std::string& how) {
  return "Learned by tuft from " + from.observations + ": " + how +
         "\nSolved anew with these, the claims have the probabilities that were learned.";
}

// Spreads by themselves, and correlations of pairs.
LearnedCase case_of_spreads(const LearnedFrom& from, const std::vector<casefile::NewValue>& values) {
  LearnedCase out;
  out.written = casefile::rewrite(
      from.file, values,
      remark_of(
          from,
          "the spreads that changed are the posterior ones (a..b..c with five numbers or more: equally\n"
          "likely between any two). Values with a correlation of 0.5 or more stand under `correlations`."),
      new_ties(from.learned));
  out.written.text = casefile::with_joint_sample(out.written.text, from.file.path, {});
  try_out(from, out);
  return out;
}

// Devices, a row each, in which every value has its place: what readings tell of many values together.
LearnedCase case_of_devices(const LearnedFrom& from, const std::vector<casefile::NewValue>& values) {
  constexpr std::size_t kMostText = 400000;  // bytes of the rows, of a file of at most 1 MB
  LearnedCase out;
  out.written = casefile::rewrite(
      from.file, values,
      remark_of(
          from,
          "the spreads that changed are the posterior ones. The section `joint-sample` at the end\nholds "
          "devices that are equally likely now, with the place of every value in its spread:\nthe readings "
          "tie many values together, each weakly."));
  const geometry::Case content = casefile::read_case_text(out.written.text, from.file.path).file.content;
  casefile::NewJointSample joint;
  const std::size_t rows =
      std::min<std::size_t>(static_cast<std::size_t>(from.learned.devices.rows()),
                            kMostText / (4 * std::max<std::size_t>(1, content.inputs.size())));
  joint.places.resize(rows);
  for (const study::Input& input : study::inputs_of(content)) {
    const auto known = std::find_if(from.learned.inputs.begin(), from.learned.inputs.end(),
                                    [&](const study::Input& each) { return each.key == input.key; });
    if (known == from.learned.inputs.end()) continue;
    const auto places = experiment::places_of(
        input.prior, device_values(from.learned, static_cast<int>(known - from.learned.inputs.begin())),
        geometry::kPlaces);
    joint.keys.push_back(input.key);
    for (std::size_t row = 0; row < rows; ++row)
      joint.places[row].push_back(places[row * places.size() / rows]);
  }
  out.together = joint.keys.size();
  out.written.text = casefile::with_joint_sample(out.written.text, from.file.path, joint);
  try_out(from, out);
  return out;
}

// The simpler form where that says what was learned.
LearnedCase learned_case(const LearnedFrom& from) {
  const std::vector<casefile::NewValue> values = learned_values(from.learned);
  if (!from.file.content.joint) {
    LearnedCase simple = case_of_spreads(from, values);
    if (simple.agrees || from.learned.inputs.empty()) return simple;
  }
  return case_of_devices(from, values);
}

// Which claims the learned case does not give what was learned; that it does, where it does.
std::string agreement_words(const geometry::Case& content, const experiment::Learned& learned,
                            const LearnedCase& found) {
  if (learned.after.empty()) return "";
  if (found.agrees) return "Solved anew, the learned case gives the claims these probabilities.";
  std::vector<std::string> words;
  for (std::size_t c = 0; c < learned.after.size(); ++c)
    if (!experiment::reproduces({learned.after[c]}, {found.claims[c]}))
      words.push_back(io::printable(io::at(content.claims, learned.after[c].claim).id) + " " +
                      io::chance_cell(found.claims[c]) + " instead of " + io::chance_cell(learned.after[c]));
  return "The learned case does not hold all of this. Solved anew, it gives " + io::listed(words) + ".";
}

void say_learned(const io::Run& run, const experiment::Learned& learned, const io::LearnWords& words,
                 const LearnedCase& found) {
  const casefile::Rewritten& written = found.written;
  const io::Look style = look();
  say(io::learned_text(run.content, learned, words, style));
  if (written.text.empty()) {
    say_filled("No learned case is written; --force writes one anyway.");
    return;
  }
  if (!written.left_out.empty())
    say_filled("Changed, but not written to the learned case because it has no place for it: " +
               io::printable(io::listed(written.left_out)) + ".");
  if (found.together > 0)
    say_filled(
        "Known together: " + io::counted(found.together, "value") +
        ". The learned case lists devices, as spreads and correlations alone do not hold what was learned.");
  if (!written.tied.empty()) say_filled("Correlated now: " + tie_words(written.tied) + ".");
  if (!written.untied.empty())
    say_filled("Correlated, but the learned case can't state this or correlates them otherwise: " +
               tie_words(written.untied) + ".");
  const std::string agreement = agreement_words(run.content, learned, found);
  if (!agreement.empty()) say_filled(agreement);
}

io::LearnWords words_of(const casefile::CaseFile& file, const casefile::ObservationsResult& read,
                        const experiment::Learned& learned) {
  io::LearnWords words;
  std::vector<std::string> keys;
  for (const auto& input : learned.inputs) keys.push_back(input.key);
  words.units = casefile::units_of(file, keys);
  for (const auto& line : read.lines) words.observations.push_back(line.words);
  const std::vector<casefile::ObservationLine> lines = read.lines;
  words.shown = [lines, units = words.units, system = file.content.units](std::size_t j, double shown) {
    return reading_words(lines[j], shown, units, system);
  };
  return words;
}

// Claims of whose conditions, and of that where their evidence was seen, every one has a solution; the others
// are told of.
std::vector<int> solved_claims(const io::Run& run) {
  const auto is_solved = [&](int condition) {
    return condition < 0 ||
           std::any_of(run.conditions.begin(), run.conditions.end(), [&](const auto& result) {
             return result.condition == condition && result.report.converged;
           });
  };
  std::vector<int> kept;
  for (const int index : find_claims(run.content, {})) {
    const geometry::Claim& claim = io::at(run.content.claims, index);
    if (is_solved(claim.when) && is_solved(claim.against) && is_solved(claim.seen_in))
      kept.push_back(index);
    else
      say_filled("Left out because its condition has no solution: " + io::printable(claim.id) + ".");
  }
  return kept;
}

ExitStatus learn_case(const LearnCommand& options) {
  casefile::CaseFile file = load_case(options.given, options.inputs_only);
  const casefile::ObservationsResult read = load_observations(options, file);
  file.content.sweeps.clear();
  std::vector<experiment::Observation> observations;
  std::set<int> also;
  for (const auto& line : read.lines) {
    observations.push_back(observation_of(line, file.spots));
    if (line.condition >= 0) also.insert(line.condition);
  }
  const auto questions_about = [&](const geometry::Case& content, const std::vector<int>& claims) {
    return experiment::questions_of(content, claims, {also.begin(), also.end()});
  };
  io::Run run = solve(file, questions_about(file.content, find_claims(file.content, {})).conditions);
  const auto observables = observables_of(run.content, by_index(run.content, run.conditions), read,
                                          observations, options.observations);
  const auto questions = questions_about(run.content, solved_claims(run));
  experiment::LearnOptions how;
  how.per_replicate = points_for(options.samples);
  how.seed = options.seed;
  study::Sampler sampler(run.content, questions.conditions, {}, run.conditions);
  CountLine line("samples", true);
  sampler.set_watch([&line](long done, long whole) { line.show(done, whole); });
  const experiment::Learned learned =
      experiment::learn(run.content, questions, sampler, observations, observables, how);
  LearnedCase found;
  if (learned.reliable || options.force)
    found =
        learned_case({file, learned, questions, how,
                      std::filesystem::path(options.observations).filename().string(), options.inputs_only});
  const io::LearnWords words = words_of(file, read, learned);
  say_learned(run, learned, words, found);
  const io::ResultsPlace place =
      results_place(options.out, options.given.path, "-learned",
                    {"learn", {}, {std::filesystem::path(options.observations).filename().string()}});
  say(write_results_folder(
      place, [&](const auto& at) { return io::write_learned(run, learned, words, found.written.text, at); }));
  say_filled(io::kCautionLine);
  if (!learned.reliable) return ExitStatus::undecided;
  return all_solved(run) ? ExitStatus::good : ExitStatus::no_solution;
}

// Names in lines a terminal holds.
std::string tool_list(const std::vector<std::string>& names) {
  return io::fill("  ", io::listed(names) + ".", 80);
}

std::string keys_help() {
  std::string text = "Keys of an observation:\n";
  for (const auto& key : casefile::observation_keys())
    text += "  " + std::string(key.key) + ": " + key.says + "\n";
  const casefile::KnownTools tools = known_tools();
  return text + "Names of strips for `with`:\n" + tool_list(tools.strips) +
         "Names of anemometers for `with`:\n" + tool_list(tools.anemometers);
}

}  // namespace

void add_learn(CLI::App& app, ExitStatus& status) {
  auto [command, options] =
      add_command(app, status, learn_case, "learn",
                  "How measurements change the uncertain values and the claims (the posterior)",
                  "Example of a file:\n  tuft-observations: 1\n  observations:\n"
                  "    - {in: bench, strip: comb, leans: in}\n"
                  "    - {in: use, chip: processor, reads: 79 degC}\n\n" +
                      keys_help() +
                      "\nExit status: 0 learned, 2 the readings contradict the description or each other, 3 "
                      "bad input, 4 a "
                      "condition without a solution, 5 results not "
                      "written.");
  add_case_argument(command, options.given);
  command.add_option("OBSERVATIONS", options.observations, "File of observations")->required();
  add_sampling_options(command, "Samples in every round", 1 << 18, options.samples, options.seed);
  add_inputs_only_option(command, options.inputs_only);
  command.add_flag("--force", options.force,
                   "Write a learned case even if the readings contradict the description");
  add_out_option(command, options.out, "-learned");
}

}  // namespace tuft::cli
