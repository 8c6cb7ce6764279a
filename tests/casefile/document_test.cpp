// The traps of YAML, each closed: what stands in the file is read as written, and is found where it stands.
#include "geometry/casefile/document.hpp"

#include <catch2/catch.hpp>

#include <chrono>
#include <string>

#include "tests/casefile/helpers.hpp"

using namespace tuft::casefile;
using tuft::casefile::test::first_error;
using tuft::casefile::test::messages;
using tuft::casefile::test::read;
using tuft::casefile::test::small_case;

namespace {

struct Parsed {
  Node root;
  std::vector<Diagnostic> errors;
  bool complete = false;
};

Parsed parse(const std::string& text) {
  Report report("case.yaml", text);
  const auto root = parse_document(text, report);
  return {root.value_or(Node{}), report.errors(), root.has_value()};
}

}  // namespace

TEST_CASE("everything knows where it stands, from line 1 and column 1") {
  const Parsed parsed = parse("a: 1\nb:\n  - x\n  - {c: ü, d: y}\n\"e\": [p, \"q\"]\n");
  REQUIRE(parsed.errors.empty());
  const Node& root = parsed.root;
  REQUIRE(root.kind == Node::Kind::map);
  CHECK(root.spot.line == 1);
  CHECK(root.spot.column == 1);
  const Entry& b = *root.find("b");
  CHECK(b.key_spot.line == 2);
  CHECK(b.value.items.at(0).spot.line == 3);
  CHECK(b.value.items.at(0).spot.column == 5);
  const Entry& d = *b.value.items.at(1).find("d");
  CHECK(d.key_spot.line == 4);
  CHECK(d.key_spot.column == 12);  // counted in characters: the ü takes two bytes
  CHECK(d.value.spot.column == 15);
  CHECK(root.find("e")->value.items.at(1).text == "q");
  CHECK(root.find("e")->value.items.at(1).spot.column == 10);
}

TEST_CASE("scalars stay the text they were written as") {
  const Parsed parsed = parse("[010, yes, on, .nan, 1e3, 0x10, 1_000, true, 2020-01-01, '~']\n");
  const char* const expected[] = {"010",  "yes",   "on",   ".nan",       "1e3",
                                  "0x10", "1_000", "true", "2020-01-01", "~"};
  for (std::size_t i = 0; i < 10; ++i) {
    CHECK(parsed.root.items.at(i).kind == Node::Kind::text);
    CHECK(parsed.root.items.at(i).text == expected[i]);
  }
}

TEST_CASE("an empty value points at its key") {
  const Parsed parsed = parse("a:\nb: ~\nc: null\n");
  for (const char* key : {"a", "b", "c"}) {
    const Entry& entry = *parsed.root.find(key);
    CHECK(entry.value.kind == Node::Kind::nothing);
    CHECK(entry.value.spot.line == entry.key_spot.line);
    CHECK(entry.value.spot.column == 1);
  }
}

TEST_CASE("a duplicate key names both places and keeps the first") {
  const Parsed parsed = parse("a: 1\nb: 2\nc: {x: 1, y: 2, x: 3}\na: 4\n");
  REQUIRE(parsed.errors.size() == 2);
  CHECK(parsed.errors[0].line == 3);
  CHECK(parsed.errors[0].column == 17);
  CHECK(parsed.errors[0].other_line == 3);
  CHECK(parsed.errors[0].other_column == 5);
  CHECK(parsed.errors[1].line == 4);
  CHECK(parsed.errors[1].other_line == 1);
  CHECK(parsed.root.find("a")->value.text == "1");
}

TEST_CASE("aliases, merge keys and tags are refused where they stand") {
  const Parsed alias = parse("a: &x {k: 1}\nb:\n  c: *x\n");
  REQUIRE(alias.errors.size() == 1);
  CHECK(alias.errors[0].line == 3);
  CHECK(alias.errors[0].column == 6);
  CHECK(alias.errors[0].key == "b.c");
  const Parsed merge = parse("a: &x {k: 1}\nb: {<<: *x}\n");
  REQUIRE(merge.errors.size() == 1);
  CHECK(merge.errors[0].line == 2);
  CHECK(merge.errors[0].column == 5);
  CHECK(parse("a: !!float 3\n").errors.at(0).column == 4);
  CHECK(parse("a: *nowhere\n").errors.size() == 1);
  CHECK(parse("*nowhere : 1\n").errors.size() == 1);
}

TEST_CASE("keys that are no words are refused") {
  CHECK(parse("{[a]: 1}\n").errors.size() == 1);
  CHECK(parse("? {a: 1}\n: 2\n").errors.size() == 1);
  CHECK(parse("~: 1\n").errors.size() == 1);
  CHECK(parse("null: 1\n").errors.size() == 1);
}

TEST_CASE("one document, not empty") {
  CHECK(first_error("") == "1:1 the file is empty; a case begins with 'tuft: 1'");
  CHECK(first_error("\n\n") == "1:1 the file is empty; a case begins with 'tuft: 1'");
  CHECK(first_error("# nothing\n") == "1:1 the file is empty; a case begins with 'tuft: 1'");
  CHECK(first_error("---\n") == "1:4 expected a map of keys, found nothing; a case begins with 'tuft: 1'");
  CHECK(first_error("tuft\n") == "1:1 expected a map of keys, found 'tuft'; a case begins with 'tuft: 1'");
  CHECK(first_error("tuft: 1\n---\ntuft: 1\n").substr(0, 4) == "2:1 ");
  CHECK(read("---\n" + small_case() + "...\n").errors.empty());
  CHECK(read("%YAML 1.2\n---\n" + small_case()).errors.empty());
}

TEST_CASE("line ends, byte-order mark and missing last line end change nothing") {
  const std::string plain = small_case("room: {altitude: 10 s}\n");
  REQUIRE(first_error(plain).substr(0, 5) == "6:18 ");
  std::string crlf, cr;
  for (const char c : plain) {
    crlf += c == '\n' ? std::string("\r\n") : std::string(1, c);
    cr += c == '\n' ? '\r' : c;
  }
  CHECK(first_error(crlf) == first_error(plain));
  CHECK(first_error(cr) == first_error(plain));
  CHECK(first_error("\xEF\xBB\xBF" + plain) == first_error(plain));
  CHECK(first_error(plain.substr(0, plain.size() - 1)) == first_error(plain));
  // The excerpt is cut from the text as it was.
  CHECK(messages(read(crlf)) == messages(read(plain)));
}

TEST_CASE("what is not UTF-8 text is refused at its place") {
  CHECK(first_error(small_case("room: {temperature: 21 \xB0"
                               "C}\n")) == "6:24 byte 0xB0 is not UTF-8; save the file as UTF-8");
  CHECK(first_error(small_case("# \xC0\xAF overlong\n")).substr(0, 4) == "6:3 ");
  CHECK(first_error(small_case("# \xED\xA0\x80 surrogate\n")).substr(0, 4) == "6:3 ");
  CHECK(first_error(small_case("# \xF4\x90\x80\x80 too large\n")).substr(0, 4) == "6:3 ");
  CHECK(first_error(small_case("# cut \xE2\x82")).substr(0, 4) == "6:7 ");
  CHECK(first_error(std::string("\xFF\xFEt\0u\0", 6)) == "1:1 the file is UTF-16; save it as UTF-8");
  CHECK(first_error(small_case(std::string("# \0\n", 4))) == "6:3 control character 0x00 in the file");
  CHECK(first_error(small_case("# \x1B[31m\n")).substr(0, 4) == "6:3 ");
}

TEST_CASE("tabs") {
  CHECK(first_error("tuft: 1\ndevice:\n\tname: x\n") == "3:1 a tab indents this line; YAML wants spaces");
  CHECK(first_error("tuft: 1\ndevice:\n  \tname: x\n") == "3:3 a tab indents this line; YAML wants spaces");
  CHECK(read(small_case(
                 "\t# a comment may be indented by anything\n\t\nroom:\t{altitude:\t10 m}\t# so may this\n"))
            .errors.empty());
}

TEST_CASE("texts escaped into something else are checked as what they are") {
  CHECK(first_error(small_case("room: {altitude: \"10\\0 m\"}\n")).substr(0, 5) == "6:18 ");
  CHECK(first_error(small_case("poses: {\"a\\nb\": flat}\n")).find("is no name") != std::string::npos);
  CHECK(first_error(small_case("poses: {\"a\\u202Eb\": flat}\n")).find("is no name") != std::string::npos);
  CHECK(read(small_case("poses: {\"a\\u00e9b\": flat}\n")).errors.empty());
}

TEST_CASE("no nesting, length or number of entries exhausts the reader") {
  const auto start = std::chrono::steady_clock::now();
  const std::string open(500000, '['), braces(500000, '{'), dashes(1000000, '-');
  CHECK(first_error(open) == "1:1 the line is longer than 10000 bytes");
  CHECK(first_error("a: " + std::string(9000, '[')).find("nested more than 24") != std::string::npos);
  CHECK(first_error("a: " + std::string(9000, '{')).find("nested more than 24") != std::string::npos);
  std::string dashed, keys, deep;
  for (int i = 0; i < 4000; ++i) dashed += "- ";
  for (int i = 0; i < 60000; ++i) keys += "k" + std::to_string(i) + ": 1\n";
  for (int i = 0; i < 1000; ++i) deep += std::string(static_cast<std::size_t>(i), ' ') + "a:\n";
  CHECK(first_error(dashed).find("nested more than 24") != std::string::npos);
  CHECK(first_error(keys).find("more than 50000 entries") != std::string::npos);
  CHECK(first_error(deep).find("nested more than 24") != std::string::npos);
  CHECK(first_error("a: \"" + std::string(9000, 'x')).empty() == false);
  CHECK(first_error(std::string(kMaxFileSize + 1, 'x')) == "0:0 the file is larger than 1048576 bytes");
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
  CHECK(took.count() < 30.0);
}

TEST_CASE("at most a hundred errors are listed") {
  std::string many = "vents:\n";
  for (int i = 0; i < 150; ++i) many += "  v" + std::to_string(i) + ": {}\n";
  CHECK(read("tuft: 1\ndevice: {name: x, size: [1 m, 1 m, 1 m]}\n" + many).errors.size() ==
        Report::kMaxReported);
}

TEST_CASE("a file that can't be read is a diagnostic at line 0") {
  const ReadResult missing = read_case("no/such/file.yaml");
  REQUIRE(missing.errors.size() == 1);
  CHECK(missing.errors[0].line == 0);
  CHECK(format(missing.errors[0], "") == "no/such/file.yaml: error: can't be opened\n");
  const std::string cases = std::string(TUFT_SOURCE_DIR) + "/cases/";
  const ReadResult mistyped = read_case(cases + "slim-notebok.yaml");
  REQUIRE(mistyped.errors.size() == 1);
  CHECK(mistyped.errors[0].hint == "did you mean '" + cases + "slim-notebook.yaml'?");
  CHECK(read_case(cases + "mini-desktop").errors.at(0).hint ==
        "did you mean '" + cases + "mini-desktop.yaml'?");
  CHECK(read_case(cases + "zzz.yaml").errors.at(0).hint.empty());
  const ReadResult folder = read_case(TUFT_SOURCE_DIR);
  REQUIRE(folder.errors.size() == 1);
  CHECK(folder.errors[0].message == "is a directory, not a case file");
}
