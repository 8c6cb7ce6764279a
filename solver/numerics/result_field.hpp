// What is said of one field of a result, once, for everything that writes it.
#pragma once

#include <string>

namespace tuft::numerics {

/// A field of a result struct. Below the struct stands its list, a function
///
///     template <class Visit> void for_each_field(const Result& result, Visit visit);
///
/// that calls visit(ResultField, member) for one field after the other, in the order in which they are
/// written. Whatever writes the struct or speaks of it walks this list with an overload of visit for each
/// kind of member: double, bool, std::string, const char*, an enumeration, MaybeNumber, Either. A new column
/// is a member and a line in the list.
struct ResultField {
  const char* name;       ///< its key, without the unit; "": not written where there are keys
  const char* unit;       ///< SI, as "kg/s"; "-": a pure number; "": no number
  const char* heading;    ///< of its column in tables, without the unit; "": in no table
  const char* meaning;    ///< for the documentation of results
  bool on_shape = false;  ///< also an array on the drawn shape of the thing
};

/// A number that does not always apply.
struct MaybeNumber {
  bool applies;
  double value;
};

/// Yes or no where there are keys; in tables, words.
struct Either {
  bool value;
  const char *yes, *no;
};

/// The name with the unit behind it, as keys and arrays have it: "inflow_kg_s", "growth_per_s", "share".
inline std::string key_of(const ResultField& field) {
  std::string unit = field.unit;
  if (unit.empty() || unit == "-") return field.name;
  if (unit.rfind("1/", 0) == 0) unit.replace(0, 2, "per_");
  for (char& letter : unit)
    if (letter == '/') letter = '_';
  return std::string(field.name) + "_" + unit;
}

/// The heading with the unit behind it, as tables have it: "gross in [kg/s]", "share [-]", "role".
inline std::string heading_of(const ResultField& field) {
  return *field.unit == '\0' ? field.heading : std::string(field.heading) + " [" + field.unit + "]";
}

}  // namespace tuft::numerics
