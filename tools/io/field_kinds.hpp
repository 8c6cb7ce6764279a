// What kinds of values the fields of a case have, told apart when compiled.
#pragma once

#include <type_traits>
#include <vector>

#include "geometry/device/fields.hpp"
#include "geometry/device/words.hpp"

namespace tuft::model {

/// A struct whose fields are named in geometry/device/fields.hpp.
template <class T, class = void>
struct HasFields : std::false_type {};
template <class T>
struct HasFields<T, std::void_t<decltype(sizeof(geometry::Fields<T>))>> : std::true_type {};

template <class T>
struct IsList : std::false_type {};
template <class T>
struct IsList<std::vector<T>> : std::true_type {};

using Kinds = std::initializer_list<geometry::PlaceKind>;

}  // namespace tuft::model
