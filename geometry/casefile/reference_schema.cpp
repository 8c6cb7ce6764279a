// The JSON Schema of the case file, written from the key table.
#include <fmt/core.h>

#include <nlohmann/json.hpp>

#include "geometry/casefile/keys.hpp"
#include "geometry/casefile/nearest.hpp"
#include "geometry/casefile/quantity.hpp"
#include "geometry/casefile/reference.hpp"

namespace tuft::casefile {
namespace {

using Json = nlohmann::ordered_json;

Json schema_of(const Key& key);

// A number, perhaps signed, and after it at least one character of a unit.
constexpr const char* kWithUnit = "^ *[-+\u2212]?[0-9.].*[^-+0-9., ]";
constexpr const char* kNumber = "^ *[-+\u2212]?[0-9.]";

// YAML turns a plain 12 or true into a number or a truth value before the schema sees it; to the reader they
// are text.
Json any_text() { return {{"type", {"string", "number", "boolean"}}}; }

Json with_range(Json schema, const Key& key) {
  if (key.low.empty()) return schema;
  const bool open = key.low[0] == '>';
  const std::string low = open ? key.low.substr(1) : key.low;
  schema[open ? "exclusiveMinimum" : "minimum"] = *read_quantity(low, key.dimension).value;
  schema["maximum"] = *read_quantity(key.high, key.dimension).value;
  return schema;
}

Json quantity_schema(const Key& key) {
  const bool bare = key.dimension == Dimension::number || key.dimension == Dimension::share;
  if (!bare) return {{"type", "string"}, {"pattern", kWithUnit}};
  return with_range({{"type", {"string", "number"}}, {"pattern", kNumber}}, key);
}

Json words_schema(const std::vector<std::string>& words) {
  Json allowed = Json::array();
  for (const std::string& word : words) {
    const bool number = word.find_first_not_of("0123456789") == std::string::npos;
    if (number) allowed.push_back(std::atoi(word.c_str()));
    allowed.push_back(word);
  }
  return {{"enum", allowed}};
}

// --- maps ----------------------------------------------------------------------------------------

// Keys that only some kinds have: one if/then a kind.
void add_kinds(const std::vector<const Key*>& rows, Json& all_of) {
  const Key* kind_row = nullptr;
  bool differ = false;
  for (const Key* row : rows) {
    if (row->name() == "kind") kind_row = row;
    differ = differ || !row->kinds.empty();
  }
  if (kind_row == nullptr || !differ) return;
  for (const std::string& kind : kind_row->words) {
    Json names = Json::array();
    for (const Key* row : rows)
      if (row->kinds.empty() || contains(row->kinds, kind)) names.push_back(row->name());
    all_of.push_back({{"if", {{"properties", {{"kind", {{"const", kind}}}}}, {"required", {"kind"}}}},
                      {"then", {{"propertyNames", {{"enum", names}}}}}});
  }
}

// Keys that are required unless another one stands beside them.
void add_alternatives(const std::vector<const Key*>& rows, Json& all_of) {
  for (const Key* row : rows) {
    if (!row->required || row->or_keys.empty()) continue;
    Json choices = Json::array({{{"required", Json::array({row->name()})}}});
    for (const std::string& other : row->or_keys) choices.push_back({{"required", Json::array({other})}});
    all_of.push_back({{"anyOf", choices}});
  }
}

void add_statements(const std::vector<const Key*>& rows, Json& schema) {
  Json choices = Json::array();
  for (const Key* row : rows)
    if (row->statement) choices.push_back({{"required", Json::array({row->name()})}});
  if (!choices.empty()) schema["oneOf"] = choices;
}

Json map_schema(const std::string& pattern) {
  const std::vector<const Key*> rows = keys_below(pattern);
  Json properties = Json::object();
  Json required = Json::array();
  for (const Key* row : rows) {
    properties[row->name()] = schema_of(*row);
    if (row->required && row->or_keys.empty()) required.push_back(row->name());
  }
  Json schema = {{"type", "object"}, {"properties", properties}, {"additionalProperties", false}};
  if (!required.empty()) schema["required"] = required;
  Json all_of = Json::array();
  add_kinds(rows, all_of);
  add_alternatives(rows, all_of);
  if (!all_of.empty()) schema["allOf"] = all_of;
  add_statements(rows, schema);
  return schema;
}

Json named_schema(const Key& key) {
  Json schema = {{"type", "object"},
                 {"propertyNames", {{"minLength", 1}, {"maxLength", 100}}},
                 {"additionalProperties", schema_of(*keys_below(key.path).front())}};
  if (!key.may_be_empty) schema["minProperties"] = 1;
  if (key.most > 0) schema["maxProperties"] = key.most;
  return schema;
}

// --- everything ----------------------------------------------------------------------------------

Json list_schema(const Key& key) {
  Json schema = {{"type", "array"}, {"items", schema_of(*keys_below(key.path).front())}};
  if (key.most > 0) schema["maxItems"] = key.most;
  return schema;
}

Json array_of(Json items, int least, int most) {
  return {{"type", "array"}, {"items", std::move(items)}, {"minItems", least}, {"maxItems", most}};
}

Json quantities_schema(const Key& key) {
  // The point of a fan curve is a flow and a pressure; each needs its unit all the same.
  return array_of(quantity_schema(key), key.least > 0 ? key.least : key.count, key.count);
}

Json references_schema(const Key& key) {
  Json list = {{"type", "array"},
               {"items", any_text()},
               {"minItems", key.count > 0 ? key.count : 1},
               {"uniqueItems", true}};
  if (key.count == 0) return {{"anyOf", Json::array({any_text(), list})}};
  list["maxItems"] = key.count;
  return list;
}

Json own_schema(const Key& key) {
  switch (key.type) {
    case Type::map:
      return map_schema(key.path);
    case Type::named:
      return named_schema(key);
    case Type::list:
      return list_schema(key);
    case Type::quantity:
      return quantity_schema(key);
    case Type::quantities:
      return quantities_schema(key);
    case Type::word:
      return words_schema(key.words);
    case Type::text:
    case Type::reference:
      return any_text();
    case Type::truth:
      return {{"enum", {true, false, "true", "false"}}};
    case Type::references:
      return references_schema(key);
    case Type::inputs:
      return {{"type", "array"}, {"items", any_text()}, {"minItems", key.least}, {"uniqueItems", true}};
  }
  return {};
}

Json schema_of(const Key& key) {
  Json choices = Json::array({own_schema(key)});
  if (!key.or_words.empty()) choices.push_back(words_schema(key.or_words));
  if (!key.or_things.empty()) choices.push_back(words_schema(key.or_things));
  if (!key.or_sections.empty()) choices.push_back(any_text());
  if (key.or_quantity) choices.push_back({{"type", "string"}, {"pattern", kWithUnit}});
  if (key.or_numbers > 0)
    choices.push_back(
        array_of({{"type", {"string", "number"}}, {"pattern", kNumber}}, key.or_numbers, key.or_numbers));
  Json schema = choices.size() == 1 ? choices[0] : Json{{"anyOf", choices}};
  schema["description"] = key.says;
  return schema;
}

}  // namespace

std::string case_schema_json() {
  Json schema = {{"$schema", "http://json-schema.org/draft-07/schema#"}, {"title", "Tuft case file"}};
  schema.update(map_schema(""));
  return schema.dump(2) + "\n";
}

}  // namespace tuft::casefile
