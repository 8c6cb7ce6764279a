// The order of a file's entries changes nothing of a sample, to the last bit.
#include <algorithm>
#include <catch2/catch.hpp>
#include <fstream>
#include <numeric>
#include <sstream>

#include "geometry/casefile/case_file.hpp"
#include "solver/study/sampler.hpp"
#include "solver/uncertainty/probability.hpp"

using namespace tuft;

namespace {

using Blocks = std::vector<std::string>;

/// Pieces of a block map that each begin with a key `indent` blanks in; comments stay with what follows them.
Blocks blocks_of(const std::string& text, std::size_t indent) {
  Blocks out;
  std::string comments;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    const std::size_t first = line.find_first_not_of(' ');
    const bool comment = first == std::string::npos || line[first] == '#';
    if (comment) {
      comments += line + "\n";
    } else if (first == indent) {
      out.push_back(comments + line + "\n");
      comments.clear();
    } else {
      out.back() += comments + line + "\n";
      comments.clear();
    }
  }
  return out;
}

void shuffle(Blocks& blocks, std::uint64_t key) {
  for (std::size_t i = blocks.size(); i > 1; --i)
    std::swap(blocks[i - 1], blocks[uncertainty::below_count(key, i, static_cast<std::uint32_t>(i))]);
}

/// The sections of a case in another order, and within each the things it names.
std::string shuffled(const std::string& text, std::uint64_t key) {
  Blocks sections = blocks_of(text, 0);
  for (std::string& section : sections) {
    std::size_t at = 0;  // of the section's own line
    while (section[at] == '#' || section[at] == '\n') at = section.find('\n', at) + 1;
    const std::size_t end = section.find('\n', at) + 1;
    const std::size_t first = section.find_first_not_of(" \n", end);
    const bool named = section[end - 2] == ':' && first != std::string::npos && section[first] != '-';
    if (!named) continue;
    Blocks entries = blocks_of(section.substr(end), 2);
    shuffle(entries, uncertainty::mix(key, at));
    section = std::accumulate(entries.begin(), entries.end(), section.substr(0, end));
  }
  shuffle(sections, key);
  return std::accumulate(sections.begin(), sections.end(), std::string());
}

std::string text_of(const std::string& name) {
  std::ifstream file(std::string(TUFT_SOURCE_DIR) + "/cases/" + name + ".yaml");
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

geometry::Case read(const std::string& text) {
  const auto read = casefile::read_case_text(text, "case.yaml");
  for (const auto& error : read.errors) UNSCOPED_INFO(error.message);
  REQUIRE(read.errors.empty());
  return read.file.content;
}

template <class Thing>
std::size_t place(const std::vector<Thing>& things, const std::string& name) {
  const auto at =
      std::find_if(things.begin(), things.end(), [&](const Thing& one) { return one.name == name; });
  REQUIRE(at != things.end());
  return static_cast<std::size_t>(at - things.begin());
}

void check_same(const geometry::Case& one, const geometry::Case& other) {
  REQUIRE(one.inputs.size() == other.inputs.size());
  for (std::size_t i = 0; i < one.inputs.size(); ++i) REQUIRE(one.inputs[i].key == other.inputs[i].key);
  std::vector<int> here, there;
  for (std::size_t c = 0; c < std::min<std::size_t>(3, one.conditions.size()); ++c) {
    here.push_back(static_cast<int>(c));
    there.push_back(static_cast<int>(place(other.conditions, one.conditions[c].name)));
  }
  const study::Sampler first(one, here), second(other, there);
  const auto points = uncertainty::Replicates(static_cast<int>(one.inputs.size()), 4, 1).points(0, 16);
  const study::Batch a = first.run(points), b = second.run(points);
  CHECK(a.values == b.values);
  for (std::size_t i = 0; i < a.views.size(); ++i) {
    for (std::size_t c = 0; c < here.size(); ++c) {
      const study::StateSummary &x = a.views[i][c], &y = b.views[i][c];
      INFO("sample " << i << ", " << one.conditions[c].name);
      CHECK(x.solved == y.solved);
      CHECK(x.through_flow == y.through_flow);
      for (const geometry::Vent& vent : one.device.vents) {
        const auto& p = x.vents[place(one.device.vents, vent.name)];
        const auto& q = y.vents[place(other.device.vents, vent.name)];
        INFO(vent.name);
        CHECK(p.role == q.role);
        CHECK(p.inflow == q.inflow);
        CHECK(p.outflow == q.outflow);
        CHECK(p.temperature_out == q.temperature_out);
      }
      for (const geometry::Source& source : one.device.sources)
        CHECK(x.source_temperature[place(one.device.sources, source.name)] ==
              y.source_temperature[place(other.device.sources, source.name)]);
    }
  }
}

}  // namespace

TEST_CASE("a sample is the same to the last bit whatever the order of the file's entries") {
  for (const char* name : {"slim-notebook", "fanless-router", "mini-desktop", "handheld-console"}) {
    const std::string text = text_of(name);
    const geometry::Case as_written = read(text);
    for (const std::uint64_t key : {1u, 2u}) {
      INFO(name << ", order " << key);
      const std::string other = shuffled(text, key);
      CHECK(other != text);
      check_same(as_written, read(other));
    }
  }
}
