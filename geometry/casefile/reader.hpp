// What the readers of the sections share: the way from a place in the document to a checked value.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "geometry/casefile/boxes.hpp"
#include "geometry/casefile/case_file.hpp"
#include "geometry/casefile/document.hpp"
#include "geometry/casefile/keys.hpp"
#include "geometry/casefile/quantity.hpp"
#include "geometry/casefile/report.hpp"

namespace tuft::casefile {

/// A place in the document: its node, its path as people read it, and the pattern of its row in the key
/// table.
struct Item {
  const Node* node = nullptr;
  std::string path;
  std::string pattern;
  Spot key_spot;  ///< of the key that holds it; of the node itself in a list

  explicit operator bool() const { return node != nullptr; }
};

/// The names of one section: those of the file in its order, then words known without being written.
struct Names {
  const char* one = "";  ///< "a zone"
  std::vector<std::string> all;
  std::vector<Item> items;  ///< parallel to `all`; no node where nothing is written
  bool broken = false;      ///< the section can't be read: a name may be one of it or not

  int find(const std::string& name) const;  ///< index, or -1
};

/// Reads one file into one case. The readers of the sections are free functions below that take it.
class Reader {
 public:
  Reader(CaseFile& file_, Report& report_) : file(file_), report(report_) {}

  CaseFile& file;
  Report& report;
  std::map<std::string, Names> names;  ///< by section: zones, vents (leaks included), fins, fans, ...

  geometry::Case& content() { return file.content; }
  geometry::Device& device() { return file.content.device; }

  // --- structure ---
  /// Checks that the item is a map and that its keys are known, present when required, and meant for this
  /// kind.
  bool check_map(const Item& item, const std::string& kind = "");
  /// The child with this key, or an item without a node.
  Item child(const Item& map, const std::string& key) const;
  /// Children of a `named` map, or items of a list; an error if it is something else or has too many.
  std::vector<std::pair<std::string, Item>> entries(const Item& item);
  std::vector<Item> items(const Item& item);

  // --- values; a faulty one is reported and replaced by a harmless one ---
  /// A quantity, or its default for the class, which is listed as an assumption.
  geometry::Value value(const Item& map, const std::string& key, const std::string& kind = "");
  /// A quantity if it is there.
  std::optional<geometry::Value> given(const Item& map, const std::string& key);
  /// A list of exact quantities if it is there and sound.
  std::optional<std::vector<double>> numbers(const Item& map, const std::string& key);
  /// The same with the spreads the key's row allows.
  std::optional<std::vector<geometry::Value>> values(const Item& map, const std::string& key);
  /// One quantity at an item, checked against the item's row.
  std::optional<geometry::Value> quantity(const Item& item);
  /// Which of the row's words stands there; empty when missing or faulty.
  std::string word(const Item& map, const std::string& key);
  std::string text(const Item& map, const std::string& key);
  bool truth(const Item& map, const std::string& key);
  /// Axis x, y, z or a direction of three numbers; zero when faulty.
  geometry::Vec3 axis(const Item& map, const std::string& key);

  // --- references ---
  /// Section and index a name stands for; index -1 when it is no such name (reported).
  struct Found {
    std::string section;
    int index = -1;
  };
  Found reference(const Item& item);
  /// Reports that a name is none of the sections', unless one of these can't be read.
  void unknown_name(const Item& item, const std::string& name, const std::vector<std::string>& sections);
  /// The names of a list, or of a single name; faulty ones are left out.
  std::vector<Found> references(const Item& map, const std::string& key);
  /// The same for names of vents and leaks: indices into Device::vents.
  std::vector<int> vent_references(const Item& map, const std::string& key);

  // --- inputs ---
  /// Makes a value with a spread an input of the case under its key path; bounds are those of its row.
  void add_input(const std::string& path, const Key& row, geometry::Value& value);
  /// Paths of the quantities that were read and have no spread.
  const std::set<std::string>& exact() const { return exact_; }

  // --- assumptions ---
  void assume(const std::string& path, const std::string& value, const std::string& why);
  /// Lists the row's default as used.
  void assume_default(const Item& map, const std::string& key, const std::string& kind = "");
  /// Lists the row's default with the value that was found by its rule.
  void assume_found(const Item& map, const std::string& key, const std::string& value);

  void error(const Item& item, const std::string& message, const std::string& hint = "");
  /// Checks a chosen name; reports what is wrong with it.
  void check_name(const std::string& name, const Item& item);

 private:
  /// Reports unknown keys; returns the known ones they were probably meant to be.
  std::vector<std::string> report_unknown(const Item& item, const std::vector<std::string>& known,
                                          const std::string& kind);
  bool report_missing(const Item& item, const std::vector<std::string>& misspelt);
  bool in_range(const Item& item, const Key& row, const geometry::Value& value, const std::string& written);
  const Node* expect_text(const Item& item, const std::string& wanted);

  std::map<std::string, int> inputs_;  // number of each, by path
  std::set<std::string> exact_;
};

/// "[10 mm, 20.5 mm, 3 mm]"
std::string write_point(const geometry::Vec3& point);

// The sections, in the order they are read.
void collect_names(Reader& reader, const Item& root);
void read_device(Reader& reader, const Item& root);
void read_room(Reader& reader, const Item& root);
void read_zones(Reader& reader, const Item& root);
void read_passages(Reader& reader, const Item& root);
void read_vents(Reader& reader, const Item& root);
void read_leaks(Reader& reader, const Item& root);
void read_fins(Reader& reader, const Item& root);
void read_fans(Reader& reader, const Item& root);
void read_places(Reader& reader, const Item& root);
void read_sources(Reader& reader, const Item& root);
void read_parts(Reader& reader, const Item& root);
void read_fin_metal(Reader& reader, const Item& root);
void read_skin(Reader& reader, const Item& root);
void read_spots(Reader& reader, const Item& root);
void read_lid(Reader& reader, const Item& root);
void read_poses(Reader& reader, const Item& root);
void read_supports(Reader& reader, const Item& root);
void read_loads(Reader& reader, const Item& root);
void read_conditions(Reader& reader, const Item& root);
void read_sweeps(Reader& reader, const Item& root);
void read_roles(Reader& reader, const Item& root);
void read_claims(Reader& reader, const Item& root);
/// Drops inputs that no value of the case stands for.
void keep_used_inputs(Reader& reader);
void read_together(Reader& reader, const Item& root);

/// The face named at an item's `face`; no value when faulty.
std::optional<geometry::Face> read_face(Reader& reader, const Item& item);
/// Puts the `centre` and `size` written at an item in place of those of `where` and checks that the rectangle
/// lies on its face.
Rectangle read_rectangle(Reader& reader, const Item& item, Rectangle where);
/// The zone behind a rectangle, for an item that does not say it; listed as an assumption if there is a
/// choice. Reports when it can't be told; `what` is the thing ("vent"), `choice` what may be written instead.
std::optional<int> zone_just_inside(Reader& reader, const Item& item, const Rectangle& where,
                                    const std::string& what, const std::string& choice);
/// Reads what a fan follows at "fans.*.follows".
geometry::Fan::Follows read_follows(Reader& reader, const Item& item, const geometry::Value& full_speed);
/// True if the source of this index is written with `joins`, and so has a temperature.
bool has_temperature(const Reader& reader, int source);
/// Reads a cover at "vents.*.cover".
geometry::Cover read_cover(Reader& reader, const Item& vent);
/// Reads a condition written out (pose, support, load, lid), in `conditions` or in a claim's `when`; no value
/// when faulty. The name is left empty.
std::optional<geometry::Condition> read_condition(Reader& reader, const Item& item);
/// Index of a pose or support by name; the known words are added to the case when first used.
int pose_index(Reader& reader, const std::string& name);
int support_index(Reader& reader, const std::string& name);
/// A name for a condition that has none.
std::string condition_name(const Reader& reader, const geometry::Condition& condition);
/// Index of an equal condition (name aside), or -1.
int find_condition(const Reader& reader, const geometry::Condition& condition);

/// What only the whole can tell: connections, unused things, overlaps. Leaves out what earlier errors would
/// blur.
void check_whole(Reader& reader, const Item& root);
/// Its parts: sizes that don't fit, ways for heat, what the feet do in each condition.
void check_sizes(Reader& reader);
void check_heat(Reader& reader);
void tell_of_feet(Reader& reader);

}  // namespace tuft::casefile
