// One solved condition as JSON: what a condition and a point of a sweep have from `solved` on
// (docs/results.md); and the fields of any result as JSON, driven by the list below its struct.
#pragma once

#include <type_traits>
#include "solver/network/graph.hpp"
#include "solver/study/result.hpp"
#include "tools/io/case_json.hpp"

namespace tuft::io {

/// Adds the solution to `json`: whether there is one, else why not; flows, roles, temperatures, balances.
void add_solution(Json& json, const geometry::Case& content, const study::ConditionResult& result);

/// A visitor that adds fields to an object, in the order of their list.
class AddFields {
 public:
  explicit AddFields(Json& json) : json_(json) {}

  template <class Value>
  void operator()(const numerics::ResultField& field, const Value& value) const {
    if (*field.name != '\0') json_[numerics::key_of(field)] = json_of(value);
  }

 private:
  template <class Value>
  static Json json_of(const Value& value) {
    if constexpr (std::is_enum_v<Value>) {
      return geometry::word_of(value);
    } else if constexpr (std::is_same_v<Value, double>) {
      return plain(value);
    } else {
      return value;
    }
  }
  static Json json_of(const numerics::Either& value) { return value.value; }
  static Json json_of(const numerics::MaybeNumber& value) {
    return value.applies ? Json(plain(value.value)) : Json(nullptr);
  }

  Json& json_;
};

/// The fields of one result behind what it is called by.
template <class Result>
Json fields_json(Json head, const Result& result) {
  for_each_field(result, AddFields(head));
  return head;
}

}  // namespace tuft::io
