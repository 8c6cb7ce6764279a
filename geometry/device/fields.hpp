// How the parts of a case list their fields, so that the reader of case files, the model JSON and the walk
// over what is uncertain share one list; and how parts name one another.
#pragma once

#include <array>
#include <initializer_list>
#include <optional>
#include <string>
#include <type_traits>
#include <utility>
#include <vector>

#include "geometry/device/spread.hpp"

namespace tuft::geometry {

// --- words ---------------------------------------------------------------------------------------

// An enumeration that case files and results write has its words beside it, in the order of its values:
//
//     enum class FanKind { blower, axial };
//     constexpr std::array<const char*, 2> words(FanKind) { return {"blower", "axial"}; }

/// The word of one value.
template <class Kind>
constexpr const char* word_of(Kind kind) {
  return words(kind)[static_cast<std::size_t>(kind)];
}

/// The value a word stands for; none for a word that is not of the enumeration.
template <class Kind>
std::optional<Kind> kind_called(const std::string& word) {
  for (std::size_t i = 0; i < words(Kind{}).size(); ++i)
    if (word == words(Kind{})[i]) return static_cast<Kind>(i);
  return std::nullopt;
}

/// All words of an enumeration, in the order of its values.
template <class Kind>
std::vector<std::string> all_words() {
  const auto list = words(Kind{});
  return {list.begin(), list.end()};
}

// --- references ----------------------------------------------------------------------------------

/// The lists of a case that an index may point into.
enum class List { zones, fin_stacks, fans, vents, parts, skins, sources, poses, supports, loads };

/// What stands directly behind a vent, before or behind a fan.
enum class PlaceKind {
  zone,        ///< Device::zones[index]
  fins,        ///< Device::fin_stacks[index]: a vent here is fed by the fins, a fan here blows into them
  fan_inlet,   ///< Device::fans[index] draws straight through this vent
  fan_outlet,  ///< Device::fans[index] blows straight through this vent
  vent,        ///< Device::vents[index] (fans only: a duct from or to that vent)
  part,        ///< Device::parts[index] (heat only)
  skin,        ///< Device::skins[index] (heat only)
  source       ///< Device::sources[index] (heat only)
};
constexpr std::array<const char*, 8> words(PlaceKind) {
  return {"zone", "fins", "fan-inlet", "fan-outlet", "vent", "part", "skin", "source"};
}

struct Place {
  PlaceKind kind = PlaceKind::zone;
  int index = 0;

  template <class Archive, class Self>
  static void fields(Archive& to, Self& place) {
    to.field("kind", place.kind);
    to.field("index", place.index);
  }
};

/// The list that holds what a kind of place names.
constexpr List list_of(PlaceKind kind) {
  constexpr List lists[] = {List::zones, List::fin_stacks, List::fans,  List::fans,
                            List::vents, List::parts,      List::skins, List::sources};
  return lists[static_cast<std::size_t>(kind)];
}

// --- fields --------------------------------------------------------------------------------------

// Every part of a case names the fields that decide how it is solved, next to their declaration. The static
// member `fields(archive, object)` calls, in the order of the list:
//
//     archive.field("name", object.member)               a number, word, list or part of its own
//     archive.refers("name", object.index, List::zones)  an index into a list of the case, >= 0
//     archive.may_refer("name", object.index, ...)       the same, or -1: none
//     archive.refer("name", object.indices, ...)         a list of such indices
//     archive.place("name", object.place, {kinds...})    a place, of one of these kinds
//     archive.axis("name", object.index)                 0 x, 1 y, 2 z
//
// One more argument, "key", says that the case file has a key of this name whose value goes into the member
// as it is: then a row of the key table (casefile/keys.hpp) is all that is needed for it to be read. `object`
// is const for an archive that only looks. Of a Value the nominal one counts for a solution, its spread for
// what is sampled. Left out is what changes no solution: sweeps, claims, inputs. A field missing here would
// be lost between the program and the page: tests/io compares solutions bit by bit.

/// The kinds a place may have.
using PlaceKinds = std::initializer_list<PlaceKind>;

/// True for a struct that lists its fields.
template <class T, class = void>
struct HasFields : std::false_type {};
template <class T>
struct HasFields<T, std::void_t<decltype(T::fields(std::declval<int&>(), std::declval<T&>()))>>
    : std::true_type {};

template <class T>
struct IsList : std::false_type {};
template <class T>
struct IsList<std::vector<T>> : std::true_type {};

/// Calls visit(Value&) for every value that may have a spread. See `for_each_value`.
template <class Visit>
class ValueWalk {
 public:
  explicit ValueWalk(const Visit& visit) : visit_(visit) {}

  template <class T>
  void field(const char* name, T& member, const char* /*key*/ = nullptr) {
    using Plain = std::remove_const_t<T>;
    if constexpr (std::is_same_v<Plain, Value>) {
      visit_(member);
    } else if constexpr (IsList<Plain>::value) {
      for (auto& one : member) field(name, one);
    } else if constexpr (HasFields<Plain>::value) {
      Plain::fields(*this, member);
    }
  }
  void axis(const char*, int) {}
  void refers(const char*, int, List, const char* = nullptr) {}
  void may_refer(const char*, int, List, const char* = nullptr) {}
  void refer(const char*, const std::vector<int>&, List, const char* = nullptr) {}
  void place(const char*, const Place&, PlaceKinds) {}

 private:
  const Visit& visit_;
};

/// Calls visit(Value&) (const Value& for a const case) for every value of the case that may have a spread, in
/// the order of the lists.
template <class CaseOf, class Visit>
void for_each_value(CaseOf& content, const Visit& visit) {
  ValueWalk<Visit>(visit).field("", content);
}

}  // namespace tuft::geometry
