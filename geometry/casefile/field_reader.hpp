// From the keys of a map into the fields that list them: what a key simply says needs no code of its own.
#pragma once

#include <set>

#include "geometry/casefile/reader.hpp"

namespace tuft::casefile {

/// Takes what stands at the keys of a map into the fields of an object that name these keys
/// (geometry/device/fields.hpp), each once. A key that is left out takes its default of the key table, which
/// is listed as an assumption; one without a default leaves the field as it is. Keys the table has for other
/// kinds of the thing are passed over.
class FieldReader {
 public:
  /// `is`: what the thing is ("mesh"), for defaults and keys that depend on it; it must outlive the reader.
  FieldReader(Reader& reader, const Item& map, std::vector<std::string> is = {})
      : reader_(reader), map_(map), is_(std::move(is)) {}

  /// Reads these keys now, in this order, which is that of the assumptions and of the uncertain inputs.
  template <class T>
  void first(T& object, std::initializer_list<const char*> keys) {
    for (const char* key : keys) {
      only_ = key;
      T::fields(*this, object);
    }
    only_.clear();
  }

  /// Reads all others, in the order of the object's list.
  template <class T>
  void rest(T& object) {
    T::fields(*this, object);
  }

  /// Leaves a key out.
  void skip(const char* key) { done_.insert(key); }

  // --- as archive, see geometry/device/fields.hpp ---
  template <class T>
  void field(const char* /*name*/, T& member, const char* key = nullptr) {
    if constexpr (!geometry::HasFields<T>::value && !geometry::IsList<T>::value) {
      if (wants(key)) read(key, member);
    }
  }
  void axis(const char*, int) {}
  void refers(const char*, int& index, geometry::List list, const char* key = nullptr) {
    may_refer("", index, list, key);
  }
  void may_refer(const char*, int& index, geometry::List, const char* key = nullptr) {
    if (!wants(key)) return;
    if (const Item item = reader_.child(map_, key)) index = reader_.reference(item).index;
  }
  void refer(const char*, std::vector<int>& indices, geometry::List, const char* key = nullptr) {
    if (wants(key)) indices = reader_.vent_references(map_, key);
  }
  void place(const char*, const geometry::Place&, geometry::PlaceKinds) {}

 private:
  // True if the field has a key of its own, and it is its turn.
  bool wants(const char* key) {
    if (key == nullptr || (!only_.empty() && only_ != key)) return false;
    return reader_.is_meant_for(map_, key, is_) && done_.insert(key).second;
  }

  void read(const char* key, geometry::Value& value) {
    if (const auto found = reader_.value_if_any(map_, key, is_)) value = *found;
  }
  void read(const char* key, double& value) {
    if (const auto found = reader_.value_if_any(map_, key, is_)) value = **found;
  }
  void read(const char* key, std::string& text) { text = reader_.text(map_, key); }
  void read(const char* key, bool& truth) { truth = reader_.truth(map_, key); }
  void read(const char* key, geometry::Vec3& point) {
    if (const auto found = reader_.point(map_, key)) point = *found;
  }
  template <class Kind>
  void read(const char* key, Kind& kind) {
    kind = geometry::kind_called<Kind>(reader_.word(map_, key)).value_or(kind);
  }

  Reader& reader_;
  const Item& map_;
  const std::vector<std::string> is_;
  std::string only_;
  std::set<std::string> done_;
};

}  // namespace tuft::casefile
