// A case from JSON: the values first, then whether every index points to something.
#include <Eigen/LU>
#include <cmath>
#include <limits>

#include "tools/io/case_json.hpp"
#include "tools/io/check_references.hpp"
#include "tools/io/field_kinds.hpp"

namespace tuft::model {
namespace {

[[noreturn]] void refuse(const std::string& path, const std::string& what) {
  throw ModelError(path + ": " + what);
}

[[noreturn]] void refuse_kind(const std::string& path, const char* wanted, const Json& found) {
  refuse(path, std::string(wanted) + " is expected, " + found.type_name() + " was found");
}

void read(const Json& json, const std::string& path, bool& value) {
  if (!json.is_boolean()) refuse_kind(path, "true or false", json);
  value = json.get<bool>();
}

void read(const Json& json, const std::string& path, double& value) {
  if (!json.is_number()) refuse_kind(path, "a number", json);
  value = json.get<double>();
}

void read(const Json& json, const std::string& path, int& value) {
  constexpr double kLargest = std::numeric_limits<int>::max();
  if (!json.is_number_integer() || std::abs(json.get<double>()) > kLargest)
    refuse_kind(path, "a whole number", json);
  value = json.get<int>();
}

void read(const Json& json, const std::string& path, std::string& value) {
  if (!json.is_string()) refuse_kind(path, "a text", json);
  value = json.get<std::string>();
}

void read(const Json& json, const std::string& path, geometry::Value& value) {
  double nominal = 0.0;
  read(json, path, nominal);
  value = nominal;
}

std::string entry_of(const std::string& path, std::size_t index) {
  return path + "[" + std::to_string(index) + "]";
}

void require_three(const Json& json, const std::string& path) {
  if (!json.is_array() || json.size() != 3) refuse_kind(path, "a list of three", json);
}

void read(const Json& json, const std::string& path, geometry::Vec3& value) {
  require_three(json, path);
  for (int i = 0; i < 3; ++i) read(json[static_cast<std::size_t>(i)], entry_of(path, i), value[i]);
}

void read(const Json& json, const std::string& path, Eigen::Matrix3d& value) {
  require_three(json, path);
  for (int i = 0; i < 3; ++i) {
    geometry::Vec3 row;
    read(json[static_cast<std::size_t>(i)], entry_of(path, i), row);
    value.row(i) = row.transpose();
  }
  // Far beyond the digits that a text leaves out: no rotation at all.
  constexpr double kSkew = 1e-6;
  if ((value * value.transpose() - Eigen::Matrix3d::Identity()).cwiseAbs().maxCoeff() > kSkew ||
      value.determinant() < 0.0)
    refuse(path, "this is no rotation");
}

template <class Kind>
void read_word(const Json& json, const std::string& path, Kind& value) {
  std::string word, known;
  read(json, path, word);
  const auto& words = geometry::Words<Kind>::list;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (word == words[i]) {
      value = static_cast<Kind>(i);
      return;
    }
    known += (i == 0 ? "" : ", ") + std::string(words[i]);
  }
  refuse(path, "'" + word + "' is none of " + known);
}

template <class T>
void read_any(const Json& json, const std::string& path, T& value);

/// Reads the fields of one struct, and refuses any other.
class Reader {
 public:
  Reader(const Json& json, std::string path) : json_(json), path_(std::move(path)) {
    if (!json.is_object()) refuse_kind(path_, "an object", json);
  }

  template <class T>
  void field(const char* name, T& value) {
    read_any(entry(name), place_of(name), value);
  }
  void axis(const char* name, int& index) {
    field(name, index);
    if (index < 0 || index > 2) refuse(place_of(name), "an axis is 0, 1 or 2");
  }
  void refers(const char* name, int& index, geometry::List /*list*/) { field(name, index); }
  void may_refer(const char* name, int& index, geometry::List /*list*/) { field(name, index); }
  void refer(const char* name, std::vector<int>& indices, geometry::List /*list*/) { field(name, indices); }
  void place(const char* name, geometry::Place& place, Kinds /*kinds*/) {
    Reader reader(entry(name), place_of(name));
    reader.field("kind", place.kind);
    reader.field("index", place.index);
    reader.finish();
  }

  /// Whatever was not asked for does not belong here.
  void finish() const {
    for (const auto& [key, value] : json_.items()) {
      bool known = false;
      for (const std::string& name : names_) known = known || name == key;
      if (!known) refuse(path_, "'" + key + "' is not known here");
    }
  }

 private:
  std::string place_of(const char* name) const { return path_ + "." + name; }

  const Json& entry(const char* name) {
    const auto found = json_.find(name);
    if (found == json_.end()) refuse(path_, std::string("'") + name + "' is missing");
    names_.emplace_back(name);
    return *found;
  }

  const Json& json_;
  std::string path_;
  std::vector<std::string> names_;
};

template <class T>
void read_any(const Json& json, const std::string& path, T& value) {
  if constexpr (std::is_enum_v<T>) {
    read_word(json, path, value);
  } else if constexpr (IsList<T>::value) {
    if (!json.is_array()) refuse_kind(path, "a list", json);
    value.resize(json.size());
    for (std::size_t i = 0; i < json.size(); ++i) read_any(json[i], entry_of(path, i), value[i]);
  } else if constexpr (HasFields<T>::value) {
    Reader reader(json, path);
    geometry::Fields<T>::visit(reader, value);
    reader.finish();
  } else {
    read(json, path, value);
  }
}

}  // namespace

geometry::Case case_of(const Json& json) {
  geometry::Case content;
  read_any(json, "model", content);
  check_references(content);
  return content;
}

geometry::Case case_of_text(const std::string& text) {
  try {
    return case_of(Json::parse(text));
  } catch (const Json::exception& error) {
    throw ModelError(std::string("model: this is no JSON: ") + error.what());
  }
}

}  // namespace tuft::model
