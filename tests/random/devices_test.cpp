// Random devices, written as case files, read, solved, and held against what must be true of any device.
#include <catch2/catch.hpp>
#include <chrono>
#include <cstdlib>
#include <fstream>
#include <functional>
#include <iostream>

#include "geometry/casefile/case_file.hpp"
#include "solver/study/predict.hpp"
#include "tests/random/invariants.hpp"
#include "tests/random/random_device.hpp"
#include "tests/support/cases.hpp"

using namespace tuft;
using namespace tuft::test;
using study::ConditionResult;
using study::StateSearch;

namespace {

// What a change of the device must not change by more, over the through-flow: the solver's own error,
// enlarged by openings whose flow hardly depends on pressure.
constexpr double kSameFlow = 1e-6;
// Two halves of a vent against the whole one: what creeps round a rim of its own comes on top of the grille's
// law (E6).
constexpr double kHalves = 0.05;

constexpr double kLong = 2.0;  // [s]: told where many are solved

const std::string kMirror = "in a mirror";

struct Tally {
  int devices = 0, conditions = 0, unsolved = 0, warnings = 0, ordered = 0, mirrors = 0, pairs = 0,
      halves = 0;
  int other_halves = 0;  ///< of `halves`, with other flows than the whole vent
  int other_states = 0;  ///< of mirrors and pairs, in another of the device's steady states
  int cut_short = 0;  ///< of mirrors and pairs, in a state that a search told to be incomplete did not find
  int missed = 0;     ///< of those, in a state that a search missed without a word
  Faults reasons, faults;
};

struct Solved {
  geometry::Case content;
  std::vector<ConditionResult> results;
};

void note(Tally& tally, std::uint64_t seed, const std::string& what, const Faults& faults) {
  for (const std::string& fault : faults)
    tally.faults.push_back("device " + std::to_string(seed) + ", " + what + ": " + fault);
}

Solved solve(const std::string& text, StateSearch search, Tally& tally, std::uint64_t seed) {
  const casefile::ReadResult read = casefile::read_case_text(text, "random.yaml");
  for (const casefile::Diagnostic& error : read.errors)
    note(tally, seed, "reading", {casefile::format(error, read.file.text)});
  for (const casefile::Diagnostic& warning : read.warnings)
    if (casefile::format(warning, read.file.text).empty()) note(tally, seed, "reading", {"an empty warning"});
  tally.warnings += static_cast<int>(read.warnings.size());
  if (!read.errors.empty()) return {};
  const std::vector<int> every = every_condition(read.file.content);
  Solved solved{read.file.content, study::predict_these(read.file.content, every, search)};
  for (const ConditionResult& result : solved.results)
    if (!result.report.converged)
      ++tally.unsolved,
          tally.reasons.push_back("device " + std::to_string(seed) + ": " + result.report.reason);
  return solved;
}

const ConditionResult& named(const Solved& solved, const std::string& name) {
  for (const ConditionResult& result : solved.results)
    if (result.name == name) return result;
  FAIL("no condition " << name);
  std::abort();
}

// Other states are looked for in every hundredth device: it takes a hundred times as long.
StateSearch search_of(std::uint64_t seed) {
  return seed % 100 == 0 ? StateSearch::starts : StateSearch::none;
}

// The same file with its entries in another order.
void check_order(const RandomDevice& device, const Solved& solved, Tally& tally, std::uint64_t seed) {
  const Solved other = solve(case_text(device, seed + 1), search_of(seed), tally, seed);
  if (other.results.empty()) return;  // a fault in reading is noted
  for (const ConditionResult& result : solved.results) {
    ++tally.ordered;
    note(tally, seed, "in another order, " + result.name,
         different_bits(solved.content, result, other.content, named(other, result.name)));
  }
}

// The seams that are assumed along left and right change places.
std::string in_mirror(const std::string& name) {
  if (name == "seam-left") return "seam-right";
  return name == "seam-right" ? "seam-left" : name;
}

using Rename = std::function<std::string(const std::string&)>;

// Whether `other` shows one of the states that the search finds in `searched`.
bool shows_a_state(const Solved& searched, const std::string& condition, const Solved& other,
                   const Rename& rename) {
  ConditionResult state = named(searched, condition);
  const std::vector<study::OtherState> others = state.states.others;
  const auto same = [&] {
    return different_flows(searched.content, state, other.content, named(other, condition), kSameFlow, rename)
        .empty();
  };
  if (same()) return true;
  for (const study::OtherState& one : others) {
    state.vents = one.vents;
    if (same()) return true;
  }
  return false;
}

// Whether the search itself says that a state may be missing.
bool is_incomplete(const study::States& states) {
  return !states.left_out.empty() || states.growth > 0.0 || (states.stable + states.unstable) % 2 == 0;
}

// Two texts of what should be the same air. A device with several steady states may reach another one of
// them. Then the state that the search keeps of the second must be among those that it finds of the first;
// or, in a mirror, the other way about.
void check_same(const std::string& text, const Solved& solved, const std::string& other_text,
                const Solved& other, const std::string& condition, const std::string& what,
                const std::vector<Rename>& renames, Tally& tally, std::uint64_t seed) {
  for (const Rename& rename : renames) {
    const Faults faults = different_flows(solved.content, named(solved, condition), other.content,
                                          named(other, condition), kSameFlow, rename);
    if (faults.empty()) continue;
    const Solved searched = solve(text, StateSearch::starts, tally, seed),
                 kept = solve(other_text, StateSearch::starts, tally, seed);
    const bool known = shows_a_state(searched, condition, kept, rename);
    const bool back = what == kMirror && shows_a_state(kept, condition, searched, rename);
    const bool told =
        is_incomplete(named(searched, condition).states) || is_incomplete(named(kept, condition).states);
    tally.other_states += known;
    tally.cut_short += !known && told;
    tally.missed += !known && !told && back;
    if (!known && !told && !back) note(tally, seed, what + ", " + condition, faults);
  }
}

void check_mirror(const RandomDevice& device, const Solved& solved, Tally& tally, std::uint64_t seed) {
  const std::string text = case_text(mirrored(device));
  const Solved other = solve(text, search_of(seed), tally, seed);
  if (other.results.empty()) return;
  for (const ConditionResult& result : solved.results) {
    ++tally.mirrors;
    check_same(case_text(device), solved, text, other, result.name, kMirror, {in_mirror}, tally, seed);
  }
}

void check_pair(const RandomDevice& device, Tally& tally, std::uint64_t seed) {
  const int axis = free_axis(device);
  if (axis < 0) return;
  const RandomDevice one = alone(device);
  const std::string text = case_text(one), twice = case_text(doubled(one, axis));
  const Solved single = solve(text, StateSearch::none, tally, seed);
  const Solved both = solve(twice, StateSearch::none, tally, seed);
  const Rename first = [](const std::string& name) { return name; };
  const Rename second = [](const std::string& name) { return name + kSecond; };
  if (both.results.empty()) return;
  for (const ConditionResult& result : single.results) {
    ++tally.pairs;
    check_same(text, single, twice, both, result.name, "twice", {first, second}, tally, seed);
  }
}

// A vent whose law is that of its grille alone, cut in halves, without buoyancy.
void check_halves(const RandomDevice& device, Tally& tally, std::uint64_t seed) {
  if (device.fans.empty()) return;
  const RandomDevice cold = in_free_air(device, true);
  for (std::size_t v = 0; v < cold.vents.size(); ++v) {
    const RandomPatch& vent = cold.vents[v];
    if (vent.behind.empty() || vent.turned != 0.0 || !vent.has_loss || vent.face == "hinge") continue;
    const Solved whole = solve(case_text(cold), StateSearch::none, tally, seed);
    const std::string halves = case_text(with_halves(cold, v));
    // A hole of the cover may not fit into a half.
    if (!casefile::read_case_text(halves, "random.yaml").errors.empty()) continue;
    const Solved cut = solve(halves, StateSearch::none, tally, seed);
    for (const ConditionResult& result : whole.results) {
      ++tally.halves;
      tally.other_halves += !different_halves(whole.content, result, cut.content, named(cut, result.name),
                                              vent.name, kSecond, kHalves)
                                 .empty();
    }
    return;
  }
}

void check_device(std::uint64_t seed, Tally& tally) {
  const RandomDevice device = random_device(seed);
  ++tally.devices;
  const Solved solved = solve(case_text(device), search_of(seed), tally, seed);
  for (const ConditionResult& result : solved.results) {
    ++tally.conditions;
    note(tally, seed, result.name, faults_of(solved.content, result));
  }
  if (solved.results.empty()) return;
  check_order(device, solved, tally, seed);
  check_mirror(device, solved, tally, seed);
  if (seed % 2 == 0)
    check_pair(device, tally, seed);
  else
    check_halves(device, tally, seed);
}

std::string summary(const Tally& tally) {
  std::string out =
      std::to_string(tally.devices) + " devices, " + std::to_string(tally.conditions) + " conditions, " +
      std::to_string(tally.unsolved) + " without a solution; in another order " +
      std::to_string(tally.ordered) + ", mirrored " + std::to_string(tally.mirrors) + ", twice " +
      std::to_string(tally.pairs) + " (in another state " + std::to_string(tally.other_states) + ", " +
      std::to_string(tally.cut_short) + " where the search says that it is incomplete, " +
      std::to_string(tally.missed) + " missed)" + ", a vent in halves " + std::to_string(tally.halves) +
      " (" + std::to_string(tally.other_halves) + " with other flows); warnings " +
      std::to_string(tally.warnings) + "; faults " + std::to_string(tally.faults.size());
  for (const std::string& reason : tally.reasons) out += "\n  " + reason;
  return out;
}

std::uint64_t from_surroundings(const char* name, std::uint64_t otherwise) {
  const char* value = std::getenv(name);
  return value == nullptr ? otherwise : std::strtoull(value, nullptr, 10);
}

}  // namespace

TEST_CASE(
    "500 random devices: balances, roles, order of entries, mirror, two in one file, a vent in halves") {
  Tally tally;
  for (std::uint64_t seed = 0; seed < 500; ++seed) check_device(seed, tally);
  for (const std::string& fault : tally.faults) UNSCOPED_INFO(fault);
  CHECK(tally.faults.empty());
  // Enough of each for this to mean something.
  INFO(summary(tally));
  CHECK(tally.conditions == 1000);
  CHECK(tally.missed == 0);
  CHECK(tally.unsolved < 10);
  CHECK(tally.pairs > 50);
  CHECK(tally.halves > 200);
  // A zone's air is divided among its openings (N8): where its own streams resist, or nothing but round-off
  // passes, two halves are not one vent.
  CHECK(50 * tally.other_halves < tally.halves);
}

// TUFT_RANDOM_DEVICES devices from seed TUFT_RANDOM_FROM on; each fault is told when it is found.
TEST_CASE("random devices, as many as asked for", "[.][many]") {
  const std::uint64_t first = from_surroundings("TUFT_RANDOM_FROM", 500);
  const std::uint64_t count = from_surroundings("TUFT_RANDOM_DEVICES", 1000);
  Tally tally;
  std::size_t told = 0;
  for (std::uint64_t seed = first; seed < first + count; ++seed) {
    const auto start = std::chrono::steady_clock::now();
    check_device(seed, tally);
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
    if (took.count() > kLong) std::cout << "device " << seed << " took " << took.count() << " s" << std::endl;
    for (; told < tally.faults.size(); ++told) std::cout << tally.faults[told] << std::endl;
  }
  std::cout << summary(tally) << std::endl;
  CHECK(tally.faults.empty());
}

// Writes the device TUFT_RANDOM_FROM and its changes as case files into the current folder.
TEST_CASE("a random device as case files", "[.][write]") {
  const std::uint64_t seed = from_surroundings("TUFT_RANDOM_FROM", 0);
  const RandomDevice device = random_device(seed);
  const auto write = [&](const char* what, const std::string& text) {
    std::ofstream("random-" + std::to_string(seed) + what + ".yaml") << text;
  };
  write("", case_text(device));
  write("-ordered", case_text(device, seed + 1));
  write("-mirrored", case_text(mirrored(device)));
  write("-alone", case_text(alone(device)));
  if (const int axis = free_axis(device); axis >= 0) write("-twice", case_text(doubled(alone(device), axis)));
}
