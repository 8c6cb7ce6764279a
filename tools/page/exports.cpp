// What the page calls: the engine behind plain functions, for WebAssembly alone.
//
// Texts are bytes of UTF-8. The page asks for room, writes a text there, and reads an answer from where it is
// told. Nothing is caught in here: what is thrown ends the call through stopped(), and the page asks no more.
#include <cstdlib>
#include <exception>
#include <typeinfo>

#include "tools/page/engine.hpp"

#define TUFT_EXPORT(name) __attribute__((export_name(name)))

namespace {

/// An engine and its last answer.
struct Session {
  tuft::page::Engine engine;
  std::string answer;
};

}  // namespace

extern "C" {

/// The page's own: throws there, so that no line after it is reached. `words`: bytes that end with a zero.
__attribute__((import_module("page"), import_name("stopped"), noreturn)) void stopped(const char* words);

TUFT_EXPORT("room") char* room(std::size_t bytes) { return static_cast<char*>(std::malloc(bytes)); }
TUFT_EXPORT("free_room") void free_room(char* text) { std::free(text); }

TUFT_EXPORT("open") Session* open_session(const char* model, std::size_t bytes) {
  return new Session{tuft::page::Engine(std::string(model, bytes)), ""};
}

/// Returns the number of bytes of the answer.
TUFT_EXPORT("turned")
std::size_t turned(Session* session, int condition, double x, double y, double z, double angle_deg) {
  session->answer = session->engine.turned(condition, {x, y, z}, angle_deg);
  return session->answer.size();
}
/// The drawing that a request (JSON) asks for; returns the number of bytes of the answer.
TUFT_EXPORT("drawn") std::size_t drawn(Session* session, const char* request, std::size_t bytes) {
  session->answer = session->engine.drawn(std::string(request, bytes));
  return session->answer.size();
}
/// The largest flow that an arrow is drawn for in a list of solutions (JSON) [m3/s].
TUFT_EXPORT("largest") double largest(const Session* session, const char* solutions, std::size_t bytes) {
  return session->engine.largest(std::string(solutions, bytes));
}
TUFT_EXPORT("answer") const char* answer(const Session* session) { return session->answer.data(); }

/// What it was made from; exported so that the mark stands in the file, where the program looks for it.
TUFT_EXPORT("made_from") const char* made_from() { return tuft::page::mark(); }

// The two halves of a throw. Everything thrown here derives from std::exception as its first base.
void* __cxa_allocate_exception(std::size_t bytes) noexcept { return std::malloc(bytes); }
void __cxa_throw(void* thrown, std::type_info* /*type*/, void (* /*destroy*/)(void*)) {
  stopped(static_cast<const std::exception*>(thrown)->what());
}

}  // extern "C"
