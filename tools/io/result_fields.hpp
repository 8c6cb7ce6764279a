// The fields of a result as JSON, driven by the list below its struct.
#pragma once

#include "solver/study/result.hpp"
#include "tools/io/case_json.hpp"
#include "tools/io/solution_json.hpp"

namespace tuft::io {

/// A visitor that adds fields to an object, in the order of their list.
class AddFields {
 public:
  explicit AddFields(Json& json) : json_(json) {}

  void operator()(const numerics::ResultField& field, double value) const { add(field, plain(value)); }
  void operator()(const numerics::ResultField& field, int value) const { add(field, value); }
  void operator()(const numerics::ResultField& field, bool value) const { add(field, value); }
  void operator()(const numerics::ResultField& field, const char* value) const { add(field, value); }
  void operator()(const numerics::ResultField& field, const std::string& value) const { add(field, value); }
  void operator()(const numerics::ResultField& field, const numerics::Either& value) const {
    add(field, value.value);
  }
  void operator()(const numerics::ResultField& field, const numerics::MaybeNumber& value) const {
    add(field, value.applies ? Json(plain(value.value)) : Json(nullptr));
  }
  void operator()(const numerics::ResultField& field, geometry::Role value) const {
    add(field, geometry::role_word(value));
  }
  void operator()(const numerics::ResultField& field, network::SourceState value) const {
    add(field, source_state_word(value));
  }

 private:
  void add(const numerics::ResultField& field, Json value) const {
    if (*field.name != '\0') json_[numerics::key_of(field)] = std::move(value);
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
