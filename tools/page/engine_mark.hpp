// Which sources an engine of pages was made from.
#pragma once

namespace tuft::engine {

/// A text that stands for all sources of the engine; it is in the program and, as bytes, in the file of the
/// engine. Both were made from the same sources when these are the same.
const char* mark();

}  // namespace tuft::engine
