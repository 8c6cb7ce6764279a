
#include <algorithm>
#include <cmath>
#include <set>

#include "tools/io/numbers.hpp"
#include "tools/io/table.hpp"
#include "tools/io/warnings.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {
namespace {

using geometry::Role;
using study::ConditionResult;
using study::VentResult;

constexpr int kLongestHead = 24;

/// What stands for one state of a vent in the matrix, and in the key below it.
struct Sign {
  const char* cell;
  const char* meaning;
};

constexpr Sign kShut = {"x shut", "no way through"};

Sign sign_of(Role role) {
  return word_among<Role, Sign>(
      role,
      {{"> in", "intake"}, {"< out", "exhaust"}, {"<> both", "in and out"}, {". idle", "next to nothing"}});
}

Sign sign_of(const VentResult& vent) { return vent.shut ? kShut : sign_of(vent.role); }

/// The hottest of several things in one condition.
struct Hottest {
  std::string name;
  double temperature = 0.0;  // [K]
  bool marked = false;       // one of them is beyond a limit
  bool alone = true;         // hotter than all others by more than is shown of a tie

  // Takes the next one in, which may be the hotter.
  void meet(const std::string& other, double kelvin) {
    alone = std::abs(kelvin - temperature) > kSameWarmth ? alone || kelvin > temperature : false;
    if (kelvin > temperature) name = other;
    temperature = std::max(temperature, kelvin);
  }
};

void meet(std::optional<Hottest>& found, const std::string& name, double kelvin, bool marked) {
  if (found)
    found->meet(printable(name), kelvin);
  else
    found = Hottest{printable(name), kelvin};
  found->marked = found->marked || marked;
}

std::optional<Hottest> hottest_chip(const ConditionResult& result) {
  std::optional<Hottest> found;
  for (const study::SourceResult& source : result.sources)
    if (source.has_temperature)
      meet(found, source.name, source.temperature, source.state != network::SourceState::full);
  return found;
}

std::optional<Hottest> hottest_skin(const geometry::Case& content, const ConditionResult& result) {
  std::optional<Hottest> found;
  for (const study::SkinResult& skin : result.skins)
    if (!skin.lies_on)
      meet(found, at(content.device.skins, skin.skin).name, skin.temperature, is_above_limit(skin));
  return found;
}

// A name too long for its column, on two lines: broken where they are most alike in length.
void break_heading(Column& column) {
  const std::string name = column.heading;
  int best = display_width(name);
  for (std::size_t at = name.find_first_of("-_ "); at != std::string::npos;
       at = name.find_first_of("-_ ", at + 1)) {
    const std::string first = name.substr(0, at + 1), rest = name.substr(at + 1);
    const int width = std::max(display_width(first), display_width(rest));
    if (width >= best || rest.empty()) continue;
    best = width;
    column.heading = first;
    column.unit = rest;
  }
}

Column names_column(const Run& run) {
  Column column{"", "", {}};
  for (const ConditionResult& result : run.conditions) {
    column.cells.push_back(shortened(printable(result.name), kLongestHead) +
                           (result.report.converged ? "" : ": no solution"));
    column.inks.push_back(Ink::strong);
  }
  return column;
}

// Adds a cell for each condition, empty where that has no solution.
template <typename CellOf>
Column over_conditions(const Run& run, Column column, CellOf cell_of) {
  for (const ConditionResult& result : run.conditions) {
    const Cell cell = result.report.converged ? cell_of(result) : Cell("");
    column.cells.push_back(cell.text);
    column.inks.push_back(cell.ink);
  }
  return column;
}

Column vent_column(const Run& run, std::size_t vent) {
  const std::string heading = shortened(shown_vent(run.content, vent), kLongestHead);
  return over_conditions(run, {heading}, [&](const ConditionResult& result) -> Cell {
    const VentResult& found = result.vents[vent];
    return {std::string(sign_of(found).cell) + (found.firm ? "" : "?"), role_ink(found.role)};
  });
}

std::vector<Column> vent_columns(const Run& run) {
  std::vector<Column> columns;
  for (std::size_t v = 0; v < run.content.device.vents.size(); ++v)
    if (!run.content.device.vents[v].is_leak) columns.push_back(vent_column(run, v));
  return columns;
}

Column air_column(const Run& run) {
  const geometry::ShownUnit unit = geometry::flow_unit(run.content.units);
  return over_conditions(run, numbers("air", unit.name), [&](const ConditionResult& result) {
    const double flow = unit.of(room_volume_flow(result.through_flow, result));
    const std::string text = significant(flow, 2, 3);
    return Cell(text == "0" && flow > 0.0 ? "<0.001" : text);
  });
}

// Temperatures in whole degrees; a sign behind those beyond a limit, a blank behind the others.
template <typename HottestOf>
std::optional<Column> heat_column(const Run& run, const std::string& heading, HottestOf hottest_of) {
  bool any = false, marked = false;
  for (const ConditionResult& result : run.conditions) {
    const std::optional<Hottest> one = result.report.converged ? hottest_of(result) : std::nullopt;
    any = any || one;
    marked = marked || (one && one->marked);
  }
  if (!any) return std::nullopt;
  const std::string blank = marked ? " " : "";
  return over_conditions(
      run, numbers(heading, geometry::temperature_unit(run.content.units).name),
      [&](const ConditionResult& result) -> Cell {
        const std::optional<Hottest> one = hottest_of(result);
        if (!one) return "-" + blank;
        return {whole_temperature(one->temperature, run.content.units) + (one->marked ? "!" : blank),
                one->marked ? Ink::red : Ink::plain};
      });
}

std::vector<Column> number_columns(const Run& run) {
  std::vector<Column> columns = {air_column(run)};
  const auto chip = heat_column(run, "chip", hottest_chip);
  const auto skin = heat_column(
      run, "skin", [&](const ConditionResult& result) { return hottest_skin(run.content, result); });
  for (const auto& column : {chip, skin})
    if (column) columns.push_back(*column);
  return columns;
}

std::string matrix(const Run& run, const Look& look) {
  std::vector<Column> columns = vent_columns(run);
  for (Column& column : number_columns(run)) columns.push_back(std::move(column));
  const Column names = names_column(run);
  std::vector<Column> whole = {names};
  whole.insert(whole.end(), columns.begin(), columns.end());
  if (layout_width(whole) <= look.width) return lay_out(whole, 0, look);
  for (Column& column : columns)
    if (column.unit.empty()) break_heading(column);
  std::string text;
  std::vector<Column> block = {names};
  for (Column& column : columns) {
    block.push_back(std::move(column));
    if (block.size() == 2 || layout_width(block) <= look.width) continue;
    Column next = std::move(block.back());
    block.pop_back();
    text += lay_out(block, 0, look) + "\n";
    block = {names, std::move(next)};
  }
  return text + lay_out(block, 0, look);
}

// Parts with semicolons between them, a part never broken where it fits a line.
std::string lines_of_parts(const std::vector<std::string>& parts, const Look& look) {
  std::vector<std::string> lines(1);
  for (const std::string& part : parts) {
    const std::string longer = lines.back().empty() ? part : lines.back() + "; " + part;
    if (lines.back().empty() || display_width(longer) < look.width) {
      lines.back() = longer;
    } else {
      lines.back() += ";";
      lines.push_back(part);
    }
  }
  std::string text;
  for (const std::string& line : lines) text += fill("", line, look);
  return text;
}

// The signs that stand in the matrix, in words.
std::vector<std::string> key(const Run& run) {
  std::set<std::string> used;
  bool marked = false;
  for (const ConditionResult& result : run.conditions) {
    if (!result.report.converged) continue;
    for (const VentResult& vent : result.vents)
      if (!at(run.content.device.vents, vent.vent).is_leak) used.insert(sign_of(vent).cell);
    const auto chip = hottest_chip(result);
    const auto skin = hottest_skin(run.content, result);
    marked = marked || (chip && chip->marked) || (skin && skin->marked);
  }
  std::vector<std::string> parts;
  for (const Sign& sign :
       {sign_of(Role::intake), sign_of(Role::exhaust), sign_of(Role::both_ways), sign_of(Role::idle), kShut})
    if (used.count(sign.cell) > 0) parts.push_back(std::string(sign.cell) + ": " + sign.meaning);
  if (marked) parts.emplace_back("!: beyond a limit, see above");
  return parts;
}

// Which chip and which patch of skin the numbers are of. Where all are as warm, as in a device that is off,
// none is the hottest, so none is named for it.
std::vector<std::string> names_of_hottest(const Run& run) {
  std::set<std::string> chips, skins;
  bool any_chip = false, any_skin = false, no_chip = false, no_skin = false;
  for (const ConditionResult& result : run.conditions) {
    if (!result.report.converged) continue;
    const auto chip = hottest_chip(result), skin = hottest_skin(run.content, result);
    (chip ? any_chip : no_chip) = true;
    (skin ? any_skin : no_skin) = true;
    if (chip && chip->alone) chips.insert(chip->name);
    if (skin && skin->alone) skins.insert(skin->name);
  }
  const auto words = [](const std::set<std::string>& names, const char* none) {
    std::string text;
    for (const std::string& name : names) text += (text.empty() ? " (" : " or ") + name;
    if (none != nullptr) text += (text.empty() ? " (" : "; ") + std::string(none);
    return text.empty() ? text : text + ")";
  };
  std::vector<std::string> parts = {"air: what passes through"};
  if (any_chip)
    parts.push_back("chip: the hottest" + words(chips, no_chip ? "- where none is known" : nullptr));
  if (any_skin)
    parts.push_back("skin: the hottest within reach" + words(skins, no_skin ? "- where none is" : nullptr));
  return parts;
}

std::string title(const Run& run, const Look& look) {
  const std::string device = printable(run.content.device.name);
  if (run.conditions.size() != 1)
    return fill("", device + ": " + counted(run.conditions.size(), "condition"), look);
  const ConditionResult& only = run.conditions.front();
  const auto& condition = at(run.content.conditions, only.condition);
  return fill("", device + ", " + quoted(printable(only.name)) + ": " + circumstances(run.content, condition),
              look);
}

std::string sweep_lines(const Run& run, const Look& look) {
  std::string text;
  for (const auto& sweep : run.content.sweeps)
    for (const auto& result : run.sweeps)
      if (result.name == sweep.name) text += fill("", sweep_sentence(run.content, sweep, result), look);
  return text;
}

}  // namespace

std::string overview_text(const Run& run, const Look& look) {
  std::string text = title(run, look);
  for (const std::string& warning : overview_warnings(run)) text += fill("! ", warning, look);
  text += "\n" + matrix(run, look);
  const std::vector<std::string> signs = key(run);
  if (!signs.empty()) text += lines_of_parts(signs, look) + lines_of_parts(names_of_hottest(run), look);
  const std::string sweeps = sweep_lines(run, look);
  return sweeps.empty() ? text : text + "\n" + sweeps;
}

}  // namespace tuft::io
