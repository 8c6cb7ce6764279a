// tuft learn: what is believed of a case after something was measured.
#include <CLI/CLI.hpp>
#include <algorithm>
#include <cmath>
#include <filesystem>
#include <memory>
#include <set>

#include "geometry/casefile/observations.hpp"
#include "geometry/casefile/rewrite.hpp"
#include "solver/numerics/constants.hpp"
#include "solver/experiment/learn.hpp"
#include "solver/physics/anemometer.hpp"
#include "tools/io/claim_table.hpp"
#include "tools/io/doubt.hpp"
#include "tools/io/folder.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/words.hpp"
#include "tools/cli/believe.hpp"
#include "tools/cli/commands.hpp"
#include "tools/cli/console.hpp"
#include "tools/cli/load.hpp"
#include "tools/cli/observed.hpp"
#include "tools/cli/solve.hpp"

namespace tuft::program {
namespace {

struct LearnCommand {
  std::string path, observations, out;
  int samples = 2048;
  bool anyway = false;
  std::uint64_t seed = 1;
};

casefile::KnownTools known_tools() {
  casefile::KnownTools tools;
  for (const auto& cut : bench::kit()) tools.strips.push_back(cut.name);
  for (const auto& tool : instruments::anemometers()) tools.anemometers.push_back(tool.name);
  return tools;
}

casefile::ObservationsResult load_observations(const LearnCommand& options, const casefile::CaseFile& file) {
  casefile::ObservationsResult read = casefile::read_observations(options.observations, file, known_tools());
  if (read.errors.empty()) return read;
  std::string text;
  for (const auto& error : read.errors) {
    text += casefile::format(error, read.text);
    if (text.back() != '\n') text += '\n';
  }
  throw Failure(ExitStatus::bad_input, text);
}

// What the observations are of, ready to be asked; a reading that can't be had is the person's mistake.
std::vector<belief::Observable> observables_of(const geometry::Case& content,
                                               const std::vector<study::ConditionResult>& nominal,
                                               const casefile::ObservationsResult& read,
                                               const std::vector<belief::Observation>& observations,
                                               const std::string& path) {
  std::vector<belief::Observable> out;
  std::string faults;
  for (std::size_t j = 0; j < observations.size(); ++j) {
    const int condition = std::max(0, observations[j].what.condition);
    out.emplace_back(content, nominal[static_cast<std::size_t>(condition)], observations[j].what);
    if (out.back().possible()) continue;
    faults += path + ":" + std::to_string(read.lines[j].line) + ": error: '" + read.lines[j].words +
              "' can't have been read: " + out.back().reason() + "\n";
  }
  if (!faults.empty()) throw Failure(ExitStatus::bad_input, faults);
  return out;
}

// An input after learning, as a value a case file can hold: normal where that stays within what is physical,
// else the range that holds 95 %.
geometry::Value learned_value(const ensemble::Input& input, const belief::InputBelief& belief) {
  const double half = base::kDeviations95 * belief.after.deviation;
  const double low = belief.after.mean - half, high = belief.after.mean + half;
  using geometry::SpreadKind;
  const bool inside = low > input.prior.floor && high < input.prior.ceiling && low > 0.0;
  if (inside && half < 0.5 * std::abs(belief.after.mean))
    return {belief.after.mean, SpreadKind::normal, low, high};
  const double from = belief.after_interval.low, to = belief.after_interval.high;
  return {0.5 * (from + to), SpreadKind::uniform, from, to};
}

// Pairs of the case's own inputs, the strongest first.
std::vector<casefile::NewTie> new_ties(const belief::Learned& learned) {
  constexpr std::size_t kMost = 40;  // of a file that people read (judgement)
  std::vector<casefile::NewTie> out;
  for (const belief::Tie& tie : learned.ties) {
    const ensemble::Input& first = learned.inputs[static_cast<std::size_t>(tie.first)];
    const ensemble::Input& second = learned.inputs[static_cast<std::size_t>(tie.second)];
    if (first.of_case >= 0 && second.of_case >= 0 && out.size() < kMost)
      out.push_back({first.key, second.key, tie.correlation});
  }
  return out;
}

std::string tie_words(const std::vector<casefile::NewTie>& ties) {
  std::vector<std::string> words;
  for (const auto& tie : ties)
    words.push_back(tie.first + " with " + tie.second + " (" + (tie.correlation > 0.0 ? "+" : "") +
                    output::significant(tie.correlation, 2, 2) + ")");
  return output::printable(output::listed(words));
}

casefile::Rewritten learned_case(const casefile::CaseFile& file, const belief::Learned& learned,
                                 const std::string& observations) {
  std::vector<casefile::NewValue> values;
  for (const auto& belief : learned.beliefs) {
    const ensemble::Input& input = learned.inputs[static_cast<std::size_t>(belief.input)];
    if (belief.moved && input.of_case >= 0) values.push_back({input.key, learned_value(input, belief)});
  }
  return casefile::rewrite(
      file, values,
      "Learned by tuft from " + observations +
          ": the spreads that moved are those of after.\nValues with a correlation of 0.5 "
          "or more stand under `together`; weaker ones are lost:\n"
          "learn from all observations at once, not one after the other.",
      new_ties(learned));
}

void say_learned(const output::Run& run, const belief::Learned& learned, const output::LearnWords& words,
                 const casefile::Rewritten& written) {
  const output::Look style = look();
  say(output::learned_text(run.content, learned, words, style));
  if (written.text.empty()) {
    say(output::fill("", "No learned case is written; --anyway writes one all the same.", style.width));
    return;
  }
  if (!written.left_out.empty())
    say(output::fill("",
                     "Moved, but not written to the learned case, for want of a place: " +
                         output::printable(output::listed(written.left_out)) + ".",
                     style.width));
  if (!written.tied.empty())
    say(output::fill("", "Hang together now: " + tie_words(written.tied) + ".", style.width));
  if (!written.untied.empty())
    say(output::fill("",
                     "Hang together, but the learned case can't hold it, or has them tied in its own way: " +
                         tie_words(written.untied) + ".",
                     style.width));
}

output::LearnWords words_of(const casefile::CaseFile& file, const casefile::ObservationsResult& read,
                            const belief::Learned& learned) {
  output::LearnWords words;
  std::vector<std::string> keys;
  for (const auto& input : learned.inputs) keys.push_back(input.key);
  words.units = casefile::units_of(file, keys);
  for (const auto& line : read.lines) words.observations.push_back(line.words);
  const std::vector<casefile::ObservationLine> lines = read.lines;
  words.shown = [lines, units = words.units](std::size_t j, double shown) {
    return reading_words(lines[j], shown, units);
  };
  return words;
}

// Claims of whose conditions, and of that where their evidence was seen, every one has a solution; the others
// are told of.
std::vector<int> solved_claims(const output::Run& run) {
  const auto is_solved = [&](int condition) {
    return condition < 0 ||
           std::any_of(run.conditions.begin(), run.conditions.end(), [&](const auto& result) {
             return result.condition == condition && result.report.converged;
           });
  };
  std::vector<int> kept;
  for (const int index : find_claims(run.content, {})) {
    const geometry::Claim& claim = run.content.claims[static_cast<std::size_t>(index)];
    if (is_solved(claim.when) && is_solved(claim.against) && is_solved(claim.seen_in))
      kept.push_back(index);
    else
      say(output::fill(
          "", "Left out, as a condition it speaks of has no solution: " + output::printable(claim.id) + ".",
          look().width));
  }
  return kept;
}

ExitStatus learn_case(const LearnCommand& options) {
  casefile::CaseFile file = load_case(options.path);
  const casefile::ObservationsResult read = load_observations(options, file);
  file.content.sweeps.clear();
  std::vector<belief::Observation> observations;
  std::set<int> also;
  for (const auto& line : read.lines) {
    observations.push_back(observation_of(line, file.spots));
    if (line.condition >= 0) also.insert(line.condition);
  }
  const auto questions_about = [&](const geometry::Case& content, const std::vector<int>& claims) {
    return belief::questions_of(content, claims, {also.begin(), also.end()});
  };
  output::Run run = solve(file, questions_about(file.content, find_claims(file.content, {})).conditions);
  const auto observables = observables_of(run.content, by_index(run.content, run.conditions), read,
                                          observations, options.observations);
  const auto questions = questions_about(run.content, solved_claims(run));
  belief::LearnOptions how;
  how.per_replicate = points_for(options.samples);
  how.seed = options.seed;
  const ensemble::Sampler sampler(run.content, questions.conditions);
  const belief::Learned learned =
      belief::learn(run.content, questions, sampler, observations, observables, how);
  casefile::Rewritten written;
  if (learned.reliable || options.anyway)
    written = learned_case(file, learned, std::filesystem::path(options.observations).filename().string());
  const output::LearnWords words = words_of(file, read, learned);
  say_learned(run, learned, words, written);
  const std::filesystem::path place =
      options.out.empty() ? std::filesystem::path(options.path).stem().string() + "-learned" : options.out;
  try {
    const std::size_t count = output::write_learned(run, learned, words, written.text, place).size();
    say("Results: " + output::printable(place.string()) + " (" + output::counted(count, "file") + ")\n");
  } catch (const output::FolderError& error) {
    throw Failure(ExitStatus::output_not_written, error.what());
  }
  say(output::fill("", output::kCaution, look().width));
  if (!learned.reliable) return ExitStatus::cannot_tell;
  return all_solved(run) ? ExitStatus::good : ExitStatus::no_solution;
}

// Names in lines a terminal holds.
std::string tool_list(const std::vector<std::string>& names) {
  return output::fill("  ", output::listed(names) + ".", 80);
}

std::string keys_help() {
  std::string text = "Keys of an observation:\n";
  for (const auto& key : casefile::observation_keys())
    text += "  " + std::string(key.key) + ": " + key.says + "\n";
  const casefile::KnownTools tools = known_tools();
  return text + "Names at `with`, of strips:\n" + tool_list(tools.strips) + "of anemometers:\n" +
         tool_list(tools.anemometers);
}

}  // namespace

void add_learn(CLI::App& app, ExitStatus& status) {
  auto options = std::make_shared<LearnCommand>();
  CLI::App* command = app.add_subcommand("learn", "What is believed after something was measured");
  command->add_option("CASE", options->path, "Case file")->required();
  command->add_option("OBSERVATIONS", options->observations, "File of observations")->required();
  command->add_option("--samples", options->samples, "Samples in every round; default 2048")
      ->check(CLI::Range(32, 1 << 18));
  command->add_option("--seed", options->seed, "Seed of the sampling; default 1");
  command->add_flag("--anyway", options->anyway,
                    "Write a learned case even where the readings contradict the description");
  command->add_option("--out", options->out, "Results folder; default: the case's name with -learned, here")
      ->type_name("DIR");
  command->footer(
      "Example of a file:\n  tuft-observations: 1\n  observations:\n"
      "    - {in: bench, strip: comb, leans: in}\n"
      "    - {in: use, chip: processor, reads: 79 degC}\n\n" +
      keys_help() +
      "\nExit status: 0 learned, 2 the readings contradict the description or each other, 3 bad input, 4 a "
      "condition without a solution, 5 results not "
      "written.");
  command->callback([options, &status] { status = learn_case(*options); });
}

}  // namespace tuft::program
