// The one table of everything that can stand in a case file. The reader checks against it and takes its
// defaults from it; the reference and the JSON Schema are written from it.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "geometry/casefile/units.hpp"

namespace tuft::casefile {

/// What a key holds.
enum class Type {
  map,         ///< fixed keys, rows "path.key"
  named,       ///< a map whose keys the person chooses, row "path.*"
  list,        ///< any number of items, row "path[]"
  quantity,    ///< a number with a unit and perhaps a spread
  quantities,  ///< a list of `count` quantities without spread
  word,        ///< one of `words`
  text,        ///< free text
  truth,       ///< true or false
  reference,   ///< the name of something in one of the sections `words`
  references,  ///< one such name, or a list of `count` (0: any number) of them
  inputs       ///< a list of at least `least` paths of uncertain quantities
};

/// A value taken when the file says nothing.
struct Default {
  std::string when;  ///< class it holds for ("perforated"), or empty: always
  std::string
      value;        ///< in the notation of the case file, with unit and spread; or how it is found, in words
  std::string why;  ///< one sentence: the class of things, the source or "judgement"
};

/// One row of the table.
struct Key {
  std::string path;  ///< "vents.*.cover.hole"; '*' stands for a chosen name, "[]" for a list item
  Type type = Type::map;
  Dimension dimension = Dimension::other;
  bool required = false;
  Dimension second = Dimension::other;  ///< quantities: of the second of two, where it is another
  bool exact = false;                   ///< quantity: no spread allowed
  bool may_be_empty = false;            ///< named, list: may hold nothing
  int count = 0;                        ///< quantities, references: how many; 0: any number
  int least = 0;                        ///< quantities: fewest, if fewer than `count` will do
  int most = 0;                         ///< named, list: at most so many; 0: no limit of its own
  std::string low, high;           ///< quantity: allowed range, with unit; a leading '>' leaves the end out
  std::vector<std::string> words;  ///< word: allowed; reference: sections
  std::vector<std::string> kinds;  ///< kinds of the thing that have this key; empty: all
  std::vector<std::string> or_words;     ///< words allowed instead of what `type` says
  std::vector<std::string> or_sections;  ///< names of these sections allowed instead
  bool or_quantity = false;              ///< a quantity of `dimension` allowed instead of a word
  bool statement = false;                ///< of the keys so marked, a map holds exactly one
  bool question = false;                 ///< quantity: a range that is asked for, no doubt about a thing
  int or_numbers = 0;                    ///< a list of so many pure numbers allowed instead
  std::vector<Default> defaults;
  std::string says;  ///< documentation, one or two sentences

  // Used only to write the table down.
  Key& must() { return required = true, *this; }
  Key& in(std::string from, std::string to) { return low = std::move(from), high = std::move(to), *this; }
  Key& one_statement() { return statement = true, *this; }
  Key& no_spread() { return exact = true, *this; }
  Key& asked() { return question = true, *this; }
  Key& with_spread() { return exact = false, *this; }
  Key& empty_ok() { return may_be_empty = true, *this; }
  Key& then(Dimension other) { return second = other, *this; }
  Key& number_of(int n) { return count = n, *this; }
  Key& at_least(int n) { return least = n, *this; }
  Key& at_most(int n) { return most = n, *this; }
  Key& only(std::vector<std::string> of) { return kinds = std::move(of), *this; }
  Key& or_one_of(std::vector<std::string> list) { return or_words = std::move(list), *this; }
  Key& or_name_of(std::vector<std::string> list) { return or_sections = std::move(list), *this; }
  Key& or_a(Dimension of) { return or_quantity = true, dimension = of, *this; }
  Key& or_vector(int n) { return or_numbers = n, *this; }
  Key& fallback(std::string value, std::string why) {
    return fallback_of("", std::move(value), std::move(why));
  }
  Key& fallback_of(std::string when, std::string value, std::string why) {
    defaults.push_back({std::move(when), std::move(value), std::move(why)});
    return *this;
  }
  Key& doc(std::string sentence) { return says = std::move(sentence), *this; }

  /// The default for one of the classes a thing is of, or the one for all; nullptr if there is none.
  const Default* default_of(const std::vector<std::string>& is = {}) const;
  /// Last part of the path ("hole", "*", "[]").
  std::string name() const;
};

Key map_key(std::string path);
Key named_key(std::string path);
Key list_key(std::string path);
/// Of a share, all from 0 to 100 % unless another range is said.
Key quantity_key(std::string path, Dimension dimension);
Key quantities_key(std::string path, Dimension dimension, int count);
/// Coordinates within a device.
Key point_key(std::string path, int count);
Key word_key(std::string path, std::vector<std::string> words);
Key text_key(std::string path);
Key truth_key(std::string path);
Key reference_key(std::string path, std::vector<std::string> sections);
Key references_key(std::string path, std::vector<std::string> sections);
Key inputs_key(std::string path, int least);

/// The whole table, in the order of the reference; parents stand before their children.
const std::vector<Key>& key_table();

/// Row of a path pattern, or nullptr.
const Key* find_key(const std::string& pattern);

/// Rows directly below a map's pattern, in table order.
std::vector<const Key*> keys_below(const std::string& pattern);

// The parts of the table, one file each.
std::vector<Key> device_keys();
std::vector<Key> opening_keys();
std::vector<Key> fan_keys();
std::vector<Key> heat_keys();
std::vector<Key> spot_keys();
std::vector<Key> lid_keys();
std::vector<Key> use_keys();
std::vector<Key> question_keys();
std::vector<Key> together_keys();

}  // namespace tuft::casefile
