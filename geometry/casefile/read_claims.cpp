// Section claims.
#include <fmt/core.h>

#include <algorithm>
#include <map>

#include "geometry/casefile/nearest.hpp"
#include "geometry/casefile/reader.hpp"
#include "geometry/casefile/statement.hpp"

namespace tuft::casefile {
namespace {

using geometry::Claim;
using geometry::Condition;

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
  const auto name = [](const auto& list, int index) { return list[static_cast<std::size_t>(index)].name; };
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
  const Item seen = reader.child(item, "seen-in");
  if (!seen) return;
  claim.seen_in = reader.reference(seen).index;
  if (claim.seen_in < 0 || claim.when < 0 || claim.seen_in == claim.when || claim.seen_in == claim.against)
    return;
  const geometry::Case& content = reader.content();
  const Condition& there = content.conditions[static_cast<std::size_t>(claim.seen_in)];
  const Condition& here = content.conditions[static_cast<std::size_t>(claim.when)];
  const std::string what = difference(content, there, here);
  if (what.empty()) return;
  reader.report.warning(seen.node->spot, seen.path,
                        fmt::format("the sentence speaks of '{}', but its evidence was seen in '{}': {}",
                                    here.name, there.name, what),
                        "tuft check says what it is worth there");
}

Claim read_claim(Reader& reader, const Item& item) {
  Claim claim;
  reader.check_map(item);
  if (item.node->kind != Node::Kind::map) return claim;
  claim.id = reader.text(item, "id");
  if (const Item id = reader.child(item, "id"); id && id.node->kind == Node::Kind::text) {
    reader.check_name(claim.id, {id.node, id.path, id.pattern, id.node->spot});
  }
  claim.say = reader.text(item, "say");
  const std::string statement = read_statement(reader, item, claim);
  claim.when = read_when(reader, item);
  const Item against = statement.empty() ? Item{} : reader.child(item, statement);
  if (against && claim.against >= 0 && claim.against == claim.when) {
    reader.error(against, "the claim compares a condition with itself");
  }
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
      if (!is_new) {
        reader.report.conflict(id.node->spot, id.path,
                               fmt::format("the id {} is used twice", in_quotes(claim.id)),
                               it->second.node->spot, "first used here");
      }
    }
    reader.content().claims.push_back(claim);
  }
}

}  // namespace tuft::casefile
