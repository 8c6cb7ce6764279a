#include "tools/io/check_references.hpp"

#include <algorithm>
#include <map>

#include "tools/io/case_json.hpp"
#include "tools/io/field_kinds.hpp"

namespace tuft::model {
namespace {

using geometry::List;

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
  void field(const char* name, const T& value) {
    look(value, path_ + "." + name);
  }
  void axis(const char* /*name*/, int /*index*/) {}
  void refers(const char* name, int index, List list) { require(index, list, path_ + "." + name); }
  void may_refer(const char* name, int index, List list) {
    if (index != -1) require(index, list, path_ + "." + name);
  }
  void refer(const char* name, const std::vector<int>& indices, List list) {
    for (std::size_t i = 0; i < indices.size(); ++i)
      require(indices[i], list, path_ + "." + name + "[" + std::to_string(i) + "]");
  }
  void place(const char* name, const geometry::Place& place, Kinds kinds) {
    const std::string path = path_ + "." + name;
    if (std::find(kinds.begin(), kinds.end(), place.kind) == kinds.end())
      throw ModelError(path + ".kind: '" + geometry::word_of(place.kind) + "' can't be here");
    require(place.index, geometry::list_of(place.kind), path + ".index");
  }

 private:
  template <class T>
  void look(const T& value, const std::string& path) {
    if constexpr (IsList<T>::value) {
      for (std::size_t i = 0; i < value.size(); ++i) look(value[i], path + "[" + std::to_string(i) + "]");
    } else if constexpr (HasFields<T>::value) {
      Checker within(sizes_, path);
      geometry::Fields<T>::visit(within, value);
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

void check_references(const geometry::Case& content) {
  const Sizes sizes = sizes_of(content);
  Checker checker(sizes, "model");
  geometry::Fields<geometry::Case>::visit(checker, content);
}

}  // namespace tuft::model
