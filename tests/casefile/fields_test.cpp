// Every key that a field names has a row of the key table, and a row of plain quantities has its field.
#include <catch2/catch.hpp>
#include <map>
#include <set>
#include <string>

#include "geometry/casefile/keys.hpp"
#include "geometry/device/condition.hpp"
#include "geometry/device/lists.hpp"

using namespace tuft::casefile;
using namespace tuft::geometry;

namespace {

/// The keys that the fields of a struct name.
class Keys {
 public:
  template <class T>
  void field(const char*, T&, const char* key = nullptr) {
    add(key);
  }
  void axis(const char*, int) {}
  void refers(const char*, int, List, const char* key = nullptr) { add(key); }
  void may_refer(const char*, int, List, const char* key = nullptr) { add(key); }
  void refer(const char*, const std::vector<int>&, List, const char* key = nullptr) { add(key); }
  void place(const char*, const Place&, PlaceKinds) {}

  std::set<std::string> found;

 private:
  void add(const char* key) {
    if (key != nullptr) CHECK(found.insert(key).second);
  }
};

template <class T>
std::set<std::string> keys_of() {
  T object;
  Keys keys;
  T::fields(keys, object);
  return keys.found;
}

}  // namespace

TEST_CASE("the fields of a struct name keys of its section") {
  const std::pair<const char*, std::set<std::string>> sections[] = {
      {"device", keys_of<Device>()},
      {"room", keys_of<Room>()},
      {"passages.*", keys_of<Passage>()},
      {"vents.*", keys_of<Vent>()},
      {"vents.*.cover", keys_of<Cover>()},
      {"fans.*", keys_of<Fan>()},
      {"fans.*.speed-control", keys_of<Fan::SpeedControl>()},
      {"fins.*", keys_of<FinStack>()},
      {"sources.*", keys_of<Source>()},
      {"sources.*", keys_of<Limits>()},
      {"parts.*", keys_of<Part>()},
      {"skin.*", keys_of<Skin>()},
      {"lid", keys_of<Lid>()},
      {"supports.*", keys_of<Support>()},
      {"roles", keys_of<RoleThresholds>()}};
  for (const auto& [pattern, keys] : sections) {
    CHECK(!keys.empty());
    for (const std::string& key : keys) {
      INFO(pattern << "." << key);
      CHECK(find_key(std::string(pattern) + "." + key) != nullptr);
    }
  }
}

TEST_CASE("a quantity of the table is read by the list of fields, or by code that is named here") {
  const std::map<std::string, std::set<std::string>> by_list = {{"room", keys_of<Room>()},
                                                                {"passages.*", keys_of<Passage>()},
                                                                {"vents.*", keys_of<Vent>()},
                                                                {"vents.*.cover", keys_of<Cover>()},
                                                                {"fans.*", keys_of<Fan>()},
                                                                {"fins.*", keys_of<FinStack>()},
                                                                {"parts.*", keys_of<Part>()},
                                                                {"skin.*", keys_of<Skin>()},
                                                                {"lid", keys_of<Lid>()},
                                                                {"supports.*", keys_of<Support>()},
                                                                {"roles", keys_of<RoleThresholds>()}};
  // A gap replaces the feet or a stand's height; how a vent is turned decides what its distances to edges
  // mean.
  const std::set<std::string> by_code = {"supports.*.gap", "vents.*.turned"};
  for (const auto& [pattern, keys] : by_list) {
    for (const Key* row : keys_below(pattern)) {
      if (row->type != Type::quantity || by_code.count(row->path) > 0) continue;
      if (contains(edge_words(), row->name())) continue;  // a place, said by its distances
      INFO(row->path);
      CHECK(keys.count(row->name()) == 1);
    }
  }
}
