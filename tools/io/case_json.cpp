// A case to JSON and back: the values first, then whether every index points to something.
#include "tools/io/case_json.hpp"

#include <Eigen/LU>
#include <cmath>
#include <limits>
#include <map>

#include "geometry/device/lists.hpp"

namespace tuft::io {
namespace {

using geometry::HasFields;
using geometry::IsList;
using geometry::List;
using geometry::PlaceKinds;

// --- writing -------------------------------------------------------------------------------------

Json json_of(bool value) { return value; }
Json json_of(int value) { return value; }
Json json_of(double value) { return plain(value); }
Json json_of(const std::string& value) { return value; }
Json json_of(const geometry::Value& value) { return plain(*value); }
Json json_of(const geometry::Vec3& value) { return vector_json(value); }
Json json_of(const Eigen::Matrix3d& value) { return matrix_json(value); }

template <class T>
Json json_of_any(const T& value);

/// Writes the fields of one struct.
class Writer {
 public:
  template <class T>
  void field(const char* name, const T& value, const char* /*key*/ = nullptr) {
    json_[name] = json_of_any(value);
  }
  void axis(const char* name, int index) { field(name, index); }
  void refers(const char* name, int index, List, const char* = nullptr) { field(name, index); }
  void may_refer(const char* name, int index, List, const char* = nullptr) { field(name, index); }
  void refer(const char* name, const std::vector<int>& indices, List, const char* = nullptr) {
    field(name, indices);
  }
  void place(const char* name, const geometry::Place& place, PlaceKinds) { field(name, place); }
  Json json() { return std::move(json_); }

 private:
  Json json_ = Json::object();
};

template <class T>
Json json_of_any(const T& value) {
  if constexpr (std::is_enum_v<T>) {
    return geometry::word_of(value);
  } else if constexpr (IsList<T>::value) {
    return list_json(value, [](const auto& item) { return json_of_any(item); });
  } else if constexpr (HasFields<T>::value) {
    Writer writer;
    T::fields(writer, value);
    return writer.json();
  } else {
    return json_of(value);
  }
}

// --- reading -------------------------------------------------------------------------------------

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
  for (int i = 0; i < 3; ++i) read(json[i], entry_of(path, i), value[i]);
}

void read(const Json& json, const std::string& path, Eigen::Matrix3d& value) {
  require_three(json, path);
  for (int i = 0; i < 3; ++i) {
    geometry::Vec3 row;
    read(json[i], entry_of(path, i), row);
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
  const auto found = geometry::kind_called<Kind>(word);
  for (const std::string& one : geometry::all_words<Kind>()) known += (known.empty() ? "" : ", ") + one;
  if (!found) refuse(path, "'" + word + "' is none of " + known);
  value = *found;
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
  void field(const char* name, T& value, const char* /*key*/ = nullptr) {
    read_any(entry(name), place_of(name), value);
  }
  void axis(const char* name, int& index) {
    field(name, index);
    if (index < 0 || index > 2) refuse(place_of(name), "an axis is 0, 1 or 2");
  }
  void refers(const char* name, int& index, List, const char* = nullptr) { field(name, index); }
  void may_refer(const char* name, int& index, List, const char* = nullptr) { field(name, index); }
  void refer(const char* name, std::vector<int>& indices, List, const char* = nullptr) {
    field(name, indices);
  }
  void place(const char* name, geometry::Place& place, PlaceKinds) { field(name, place); }

  /// Whatever was not asked for does not belong here.
  void finish() const {
    for (const auto& [key, value] : json_.items()) {
      if (!geometry::contains(names_, key)) refuse(path_, "'" + key + "' is not known here");
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
    T::fields(reader, value);
    reader.finish();
  } else {
    read(json, path, value);
  }
}

// --- references ----------------------------------------------------------------------------------

/// How many entries each list has.
using Sizes = std::map<List, std::size_t>;

Sizes sizes_of(const geometry::Case& content) {
  const geometry::Device& device = content.device;
  return {{List::zones, device.zones.size()},        {List::fin_stacks, device.fin_stacks.size()},
          {List::fans, device.fans.size()},          {List::vents, device.vents.size()},
          {List::parts, device.parts.size()},        {List::skins, device.skins.size()},
          {List::sources, device.sources.size()},    {List::poses, content.poses.size()},
          {List::supports, content.supports.size()}, {List::loads, content.loads.size()}};
}

/// Looks at the fields of one struct, and at those of the structs within.
class Checker {
 public:
  Checker(const Sizes& sizes, std::string path) : sizes_(sizes), path_(std::move(path)) {}

  template <class T>
  void field(const char* name, const T& value, const char* /*key*/ = nullptr) {
    look(value, path_ + "." + name);
  }
  void axis(const char* /*name*/, int /*index*/) {}
  void refers(const char* name, int index, List list, const char* = nullptr) {
    require(index, list, path_ + "." + name);
  }
  void may_refer(const char* name, int index, List list, const char* = nullptr) {
    if (index != -1) require(index, list, path_ + "." + name);
  }
  void refer(const char* name, const std::vector<int>& indices, List list, const char* = nullptr) {
    for (std::size_t i = 0; i < indices.size(); ++i)
      require(indices[i], list, path_ + "." + name + entry_of("", i));
  }
  void place(const char* name, const geometry::Place& place, PlaceKinds kinds) {
    const std::string path = path_ + "." + name;
    if (!geometry::contains(kinds, place.kind))
      throw ModelError(path + ".kind: '" + geometry::word_of(place.kind) + "' can't be here");
    require(place.index, geometry::list_of(place.kind), path + ".index");
  }

 private:
  template <class T>
  void look(const T& value, const std::string& path) {
    if constexpr (IsList<T>::value) {
      for (std::size_t i = 0; i < value.size(); ++i) look(value[i], entry_of(path, i));
    } else if constexpr (HasFields<T>::value) {
      Checker within(sizes_, path);
      T::fields(within, value);
    }
  }

  void require(int index, List list, const std::string& path) const {
    const std::size_t size = sizes_.at(list);
    if (index >= 0 && static_cast<std::size_t>(index) < size) return;
    throw ModelError(path + ": " + std::to_string(index) + " points beyond a list of " +
                     std::to_string(size));
  }

  const Sizes& sizes_;
  std::string path_;
};

}  // namespace

geometry::Case case_of(const Json& json) {
  geometry::Case content;
  read_any(json, "model", content);
  const Sizes sizes = sizes_of(content);
  Checker checker(sizes, "model");
  geometry::Case::fields(checker, content);
  return content;
}

Json case_json(const geometry::Case& content) { return json_of_any(content); }

geometry::Case case_of_text(const std::string& text) {
  try {
    return case_of(Json::parse(text));
  } catch (const Json::exception& error) {
    throw ModelError(std::string("model: this is no JSON: ") + error.what());
  }
}

}  // namespace tuft::io
