// Tables for spreadsheets: vents.csv and temperatures.csv, and what every other CSV file is written with.
#pragma once

#include <string>
#include <type_traits>
#include <vector>

#include "solver/numerics/result_field.hpp"
#include "tools/io/run.hpp"

namespace tuft::io {

/// One field of a comma-separated file, quoted as RFC 4180 says where it has to be.
std::string csv_field(const std::string& text);

/// A number so that it reads back exactly; never "-0". Throws NotFinite, with `name` in its message.
std::string csv_number(double value, const std::string& name = "of a table");

/// "yes" or "no".
std::string csv_yes_no(bool value);

/// Fields as one line, ended by CR LF.
std::string csv_line(const std::vector<std::string>& fields);

/// Headings of the columns that results of a kind have, with `before` in front of each.
template <class Result>
void add_headings(std::vector<std::string>& headings, const std::string& before = "") {
  for_each_field(Result{}, [&](const numerics::ResultField& field, const auto&) {
    if (*field.heading != '\0') headings.push_back(before + numerics::heading_of(field));
  });
}

/// A visitor that adds a cell for every field of a result that has a column.
class AddCells {
 public:
  explicit AddCells(std::vector<std::string>& cells) : cells_(cells) {}
  template <class Value>
  void operator()(const numerics::ResultField& field, const Value& value) const {
    if (*field.heading != '\0') cells_.push_back(cell_of(field, value));
  }

  template <class Value>
  static std::string cell_of(const numerics::ResultField& field, const Value& value) {
    if constexpr (std::is_enum_v<Value>) {
      return geometry::word_of(value);
    } else if constexpr (std::is_same_v<Value, double>) {
      return csv_number(value, field.name);
    } else if constexpr (std::is_same_v<Value, bool>) {
      return csv_yes_no(value);
    } else if constexpr (std::is_same_v<Value, numerics::Either>) {
      return value.value ? value.yes : value.no;
    } else if constexpr (std::is_same_v<Value, numerics::MaybeNumber>) {
      return value.applies ? csv_number(value.value, field.name) : std::string();
    } else {
      return value;
    }
  }

 private:
  std::vector<std::string>& cells_;
};

/// The table with a header row that states the units; lines end with CR LF (RFC 4180). Numbers are written so
/// that they read back exactly. Conditions without a solution have no rows. Throws NotFinite when a number is
/// not finite.
std::string vents_csv(const Run& run);

/// One row a condition and thing; RFC 4180, lines end in CR LF. Cells that do not apply are empty. Throws
/// NotFinite.
std::string temperatures_csv(const Run& run);

}  // namespace tuft::io
