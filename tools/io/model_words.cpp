#include "tools/io/model_words.hpp"

namespace tuft::model {

const char* source_state_word(heat::SourceState state) {
  switch (state) {
    case heat::SourceState::full:
      return "full";
    case heat::SourceState::throttled:
      return "throttled";
    case heat::SourceState::starved:
      return "least-power";
    case heat::SourceState::shut_down:
      return "shut-down";
  }
  return "";
}

const char* laminar_word(network::LaminarKind kind) {
  switch (kind) {
    case network::LaminarKind::passage:
      return "passage";
    case network::LaminarKind::fins:
      return "fins";
    case network::LaminarKind::gap:
      return "gap";
    case network::LaminarKind::none:
      break;
  }
  return "";
}

}  // namespace tuft::model
