// Section claims.
#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <limits>

#include "geometry/casefile/nearest.hpp"
#include "geometry/casefile/reader.hpp"

namespace tuft::casefile {
namespace {

using geometry::Claim;
using geometry::ClaimKind;
using geometry::Condition;
using geometry::Role;

// --- what it states ------------------------------------------------------------------------------

// A statement's key, the kind of claim it makes, and what else may be said with it.
struct Statement {
  const char* key;
  ClaimKind kind;
  const char* amount;  // key that says by how much, or nullptr
  bool any;            // `any` has a meaning
};
constexpr std::array<Statement, 15> kStatements = {{
    {"role", ClaimKind::role, nullptr, true},
    {"none", ClaimKind::none_has_role, nullptr, false},
    {"none-breathes", ClaimKind::none_breathes, nullptr, false},
    {"draws-more-than", ClaimKind::draws_more, "by", false},
    {"gives-more-than", ClaimKind::gives_more, "by", false},
    {"share", ClaimKind::share, nullptr, false},
    {"changes-role-against", ClaimKind::changes_role, nullptr, true},
    {"reverses-against", ClaimKind::reverses, nullptr, true},
    {"flow-falls-against", ClaimKind::flow_falls, "by-share", false},
    {"flow-rises-against", ClaimKind::flow_rises, "by-share", false},
    {"temperature", ClaimKind::temperature, nullptr, false},
    {"hotter-than", ClaimKind::temperature, nullptr, false},
    {"cooler-than", ClaimKind::temperature, nullptr, false},
    {"warms-against", ClaimKind::warms, "by-degrees", false},
    {"cools-against", ClaimKind::cools, "by-degrees", false},
}};

const Statement* statement_named(const std::string& key) {
  const auto found = std::find_if(kStatements.begin(), kStatements.end(),
                                  [&](const Statement& statement) { return key == statement.key; });
  return found == kStatements.end() ? nullptr : &*found;
}

// The one statement of a claim; empty (and reported) when there is none or more than one.
std::string statement_of(Reader& reader, const Item& item) {
  std::vector<Item> found;
  std::vector<std::string> all;
  for (const Key* key : keys_below(item.pattern))
    if (key->statement) all.push_back(key->name());
  std::string word;
  for (const std::string& key : all) {
    if (const Item child = reader.child(item, key)) {
      if (found.empty()) word = key;
      found.push_back(child);
    }
  }
  if (found.size() == 1) return word;
  if (found.empty()) {
    std::string list;  // all of them: the person has to choose
    for (const std::string& key : all) list += (list.empty() ? "" : ", ") + key;
    reader.error(item, "the claim states nothing; it needs one of " + list);
  } else {
    reader.key_conflict(found[1], "a claim makes one statement, and it has made one", found[0],
                        "the other statement");
  }
  return "";
}

// --- what it is about ----------------------------------------------------------------------------

void read_side(Reader& reader, const Item& item, Claim& claim) {
  const std::string word = reader.word(item, "side");
  if (word.empty()) return;
  claim.side = *geometry::kind_called<geometry::Face>(word);
  const auto& vents = reader.device().vents;
  for (std::size_t v = 0; v < vents.size(); ++v)
    if (vents[v].face == claim.side && !vents[v].is_leak) claim.vents.push_back(static_cast<int>(v));
  if (claim.vents.empty() && !reader.report.has_errors_in({"vents"}))
    reader.error(reader.child(item, "side"), fmt::format("no vent lies in the face '{}'", word));
}

void read_body(Reader& reader, const Item& item, Claim& claim) {
  const Item of = reader.child(item, "of");
  const auto place = reader.place(of);
  if (!place) return;
  claim.of = *place;
  if (place->kind == geometry::PlaceKind::source && !has_temperature(reader, place->index))
    reader.error(of,
                 fmt::format("{} has no temperature: it gives its heat to the air in shares",
                             in_quotes(of.node->text)),
                 "write what it `joins`, or ask for `air-of` a zone");
  if (place->kind == geometry::PlaceKind::fins && !geometry::is_joined(reader.device(), *place))
    reader.error(of, fmt::format("the metal of {} has no temperature: no joint leads to it",
                                 in_quotes(of.node->text)));
}

constexpr std::array<const char*, 4> kSubjects = {"vents", "side", "of", "air-of"};

// What the claim is about. `statement` nullptr: it is faulty, and what would suit it isn't known.
void read_subject(Reader& reader, const Item& item, const Statement* statement, Claim& claim) {
  std::vector<Item> found;
  bool about_heat = false;
  for (const std::string key : kSubjects) {
    const Item child = reader.child(item, key);
    if (!child) continue;
    found.push_back(child);
    about_heat = key == "of" || key == "air-of";
  }
  if (found.size() > 1) {
    reader.key_conflict(found[1], "a claim is about one thing: vents, side, of or air-of", found[0],
                        "what it is about already");
    return;
  }
  if (reader.child(item, "vents")) claim.vents = reader.vent_references(item, "vents");
  if (reader.child(item, "side")) read_side(reader, item, claim);
  if (reader.child(item, "of")) read_body(reader, item, claim);
  if (const Item air = reader.child(item, "air-of")) claim.of = reader.place(air).value_or(claim.of);
  if (statement == nullptr) return;
  const bool heat = geometry::is_about_heat(statement->kind);
  const bool whole = statement->kind == ClaimKind::flow_falls || statement->kind == ClaimKind::flow_rises;
  const char* wanted = heat ? "of or air-of" : "vents or side";
  if (found.empty() && !whole) {
    reader.error(item, fmt::format("'{}' needs {}: what the sentence is about", statement->key, wanted));
  } else if (!found.empty() && heat != about_heat) {
    reader.key_error(found[0],
                     fmt::format("'{}' is about {}", statement->key, heat ? "a temperature" : "vents"),
                     fmt::format("write {}", wanted));
  }
}

// --- how much ------------------------------------------------------------------------------------

void read_range(Reader& reader, const Item& item, const char* key, Claim& claim) {
  const Item range_item = reader.child(item, key);
  const auto range = reader.quantity(range_item);
  if (!range) return;
  if (range->spread != geometry::SpreadKind::uniform) {
    const bool share = claim.kind == ClaimKind::share;
    reader.error(range_item, fmt::format("{} is not a range", in_quotes(range_item.node->text)),
                 share ? "write 40..100 %" : "write 40..60 °C, or use hotter-than or cooler-than");
    return;
  }
  claim.low = range->low;
  claim.high = range->high;
}

void read_temperature(Reader& reader, const Item& item, const std::string& key, Claim& claim) {
  claim.low = 0.0;
  claim.high = std::numeric_limits<double>::infinity();
  if (key == "temperature") return read_range(reader, item, "temperature", claim);
  const auto limit = reader.given(item, key);
  if (limit) (key == "hotter-than" ? claim.low : claim.high) = **limit;
}

void read_comparison(Reader& reader, const Item& item, const std::string& key, Claim& claim) {
  claim.than = reader.vent_references(item, key);
  claim.factor = *reader.value(item, "by");
  const Item than = reader.child(item, key);
  for (const int vent : claim.than) {
    if (contains(claim.vents, vent))
      reader.error(than, fmt::format("'{}' is compared with itself", at(reader.device().vents, vent).name));
  }
}

// Keys that only some statements give a meaning.
void check_companions(Reader& reader, const Item& item, const Statement& statement) {
  const auto refuse = [&](const char* key, const std::string& with) {
    const Item child = reader.child(item, key);
    if (child) reader.key_error(child, fmt::format("'{}' goes with {} alone", key, with));
  };
  const auto has = [&](const char* amount) {
    return statement.amount != nullptr && std::string(amount) == statement.amount;
  };
  if (!statement.any) refuse("any", "role, changes-role-against or reverses-against");
  if (!has("by")) refuse("by", "draws-more-than or gives-more-than");
  if (!has("by-share")) refuse("by-share", "flow-falls-against or flow-rises-against");
  if (!has("by-degrees")) refuse("by-degrees", "warms-against or cools-against");
}

void read_change(Reader& reader, const Item& item, const Statement& statement, Claim& claim) {
  claim.against = reader.reference(reader.child(item, statement.key)).index;
  if (statement.amount == nullptr) return;
  claim.by = *reader.value(item, statement.amount);
  if (claim.kind == ClaimKind::flow_falls && claim.by > 1.0)
    reader.error(reader.child(item, "by-share"), "a flow can't fall by more than 100 %");
}

void read_what(Reader& reader, const Item& item, const Statement& statement, Claim& claim) {
  claim.kind = statement.kind;
  claim.any = statement.any && reader.truth(item, "any");
  const std::string key = statement.key;
  if (key == "role" || key == "none") {
    claim.role = geometry::kind_called<Role>(reader.word(item, key)).value_or(Role::intake);
  } else if (key == "none-breathes") {
    claim.role = reader.word(item, key) == "in" ? Role::intake : Role::exhaust;
  } else if (key == "share") {
    read_range(reader, item, "share", claim);
  } else if (claim.kind == ClaimKind::temperature) {
    read_temperature(reader, item, key, claim);
  } else if (key.find("-against") != std::string::npos) {
    read_change(reader, item, statement, claim);
  } else {
    read_comparison(reader, item, key, claim);
  }
}

// Reads the one statement of a claim, what it is about, and how much. Returns the statement's key; empty when
// there is none or more than one (reported).
std::string read_statement(Reader& reader, const Item& item, Claim& claim) {
  const std::string key = statement_of(reader, item);
  const Statement* statement = statement_named(key);
  read_subject(reader, item, statement, claim);
  if (statement == nullptr) return "";
  check_companions(reader, item, *statement);
  read_what(reader, item, *statement, claim);
  return key;
}

// --- when ----------------------------------------------------------------------------------------

// Index of the condition a claim names or writes out, or -1 (reported).
int read_when(Reader& reader, const Item& claim) {
  const Item item = reader.child(claim, "when");
  std::vector<geometry::Condition>& all = reader.content().conditions;
  if (!item) {
    if (reader.names["conditions"].broken || all.size() == 1) return 0;
    reader.error(claim,
                 "the key 'when' is missing (conditions: " + listed(reader.names["conditions"].all) + ")");
    return -1;
  }
  if (item.node->kind == Node::Kind::text) return reader.reference(item).index;
  auto condition = read_condition(reader, item);
  if (!condition) return -1;
  const int known = find_condition(reader, *condition);
  if (known >= 0) return known;
  condition->name = condition_name(reader, *condition);
  all.push_back(*condition);
  return static_cast<int>(all.size()) - 1;
}

// --- evidence ------------------------------------------------------------------------------------

// "another pose (on-right-edge, not flat) and another load (idle, not stress)".
std::string difference(const geometry::Case& content, const Condition& seen, const Condition& meant) {
  std::vector<std::string> words;
  const auto differ = [&](const char* what, const std::string& there, const std::string& here) {
    if (there != here) words.push_back(fmt::format("another {} ({}, not {})", what, there, here));
  };
  const auto name = [](const auto& list, int index) { return at(list, index).name; };
  differ("pose", name(content.poses, seen.pose), name(content.poses, meant.pose));
  differ("support", name(content.supports, seen.support), name(content.supports, meant.support));
  differ("load", name(content.loads, seen.load), name(content.loads, meant.load));
  if (seen.lid_given != meant.lid_given || *seen.lid_angle != *meant.lid_angle)
    words.push_back("another angle of the lid");
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i)
    text += (i == 0 ? "" : i + 1 == words.size() ? " and " : ", ") + words[i];
  return text;
}

// Evidence from one condition for a sentence about another.
void read_evidence(Reader& reader, const Item& item, Claim& claim) {
  const Item seen = reader.child(item, "evidence-from");
  if (!seen) return;
  claim.seen_in = reader.reference(seen).index;
  if (claim.seen_in < 0 || claim.when < 0 || claim.seen_in == claim.when || claim.seen_in == claim.against)
    return;
  const geometry::Case& content = reader.content();
  const Condition& there = at(content.conditions, claim.seen_in);
  const Condition& here = at(content.conditions, claim.when);
  const std::string what = difference(content, there, here);
  if (what.empty()) return;
  reader.warning(seen,
                 fmt::format("the sentence speaks of '{}', but its evidence was seen in '{}': {}", here.name,
                             there.name, what),
                 "tuft check says what it is worth there");
}

Claim read_claim(Reader& reader, const Item& item) {
  Claim claim;
  if (!reader.check_map(item)) return claim;
  claim.id = reader.text(item, "id");
  if (const Item id = reader.child(item, "id"); id && id.node->kind == Node::Kind::text)
    reader.check_name(claim.id, {id.node, id.path, id.pattern, id.node->spot});
  claim.say = reader.text(item, "say");
  const std::string statement = read_statement(reader, item, claim);
  claim.when = read_when(reader, item);
  const Item against = statement.empty() ? Item{} : reader.child(item, statement);
  if (against && claim.against >= 0 && claim.against == claim.when)
    reader.error(against, "the claim compares a condition with itself");
  read_evidence(reader, item, claim);
  return claim;
}

}  // namespace

void read_claims(Reader& reader, const Item& root) {
  std::map<std::string, Item> ids;
  for (const Item& item : reader.items(reader.child(root, "claims"))) {
    const Claim claim = read_claim(reader, item);
    const Item id = reader.child(item, "id");
    if (id && !claim.id.empty()) {
      const auto [it, is_new] = ids.insert({claim.id, id});
      if (!is_new)
        reader.conflict(id, fmt::format("the id {} is used twice", in_quotes(claim.id)), it->second,
                        "first used here");
    }
    reader.content().claims.push_back(claim);
  }
}

}  // namespace tuft::casefile
