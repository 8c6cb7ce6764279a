// A case to JSON.
#include "tools/io/case_json.hpp"
#include "tools/io/field_kinds.hpp"

namespace tuft::model {
namespace {

Json json_of(bool value) { return value; }
Json json_of(double value) { return plain(value); }
Json json_of(const std::string& value) { return value; }
Json json_of(const geometry::Value& value) { return plain(*value); }
Json json_of(const geometry::Vec3& value) { return vector_json(value); }
Json json_of(const Eigen::Matrix3d& value) { return matrix_json(value); }

template <class T>
Json json_of_any(const T& value);

template <class T>
Json json_of_list(const std::vector<T>& list) {
  Json json = Json::array();
  for (const T& item : list) json.push_back(json_of_any(item));
  return json;
}

/// Writes the fields of one struct.
class Writer {
 public:
  template <class T>
  void field(const char* name, const T& value) {
    json_[name] = json_of_any(value);
  }
  void axis(const char* name, int index) { json_[name] = index; }
  void refers(const char* name, int index, geometry::List /*list*/) { json_[name] = index; }
  void may_refer(const char* name, int index, geometry::List /*list*/) { json_[name] = index; }
  void refer(const char* name, const std::vector<int>& indices, geometry::List /*list*/) {
    json_[name] = indices;
  }
  void place(const char* name, const geometry::Place& place, Kinds /*kinds*/) {
    json_[name] = {{"kind", geometry::word_of(place.kind)}, {"index", place.index}};
  }
  Json json() { return std::move(json_); }

 private:
  Json json_ = Json::object();
};

template <class T>
Json json_of_any(const T& value) {
  if constexpr (std::is_enum_v<T>) {
    return geometry::word_of(value);
  } else if constexpr (IsList<T>::value) {
    return json_of_list(value);
  } else if constexpr (HasFields<T>::value) {
    Writer writer;
    geometry::Fields<T>::visit(writer, value);
    return writer.json();
  } else {
    return json_of(value);
  }
}

}  // namespace

Json case_json(const geometry::Case& content) { return json_of_any(content); }

}  // namespace tuft::model
