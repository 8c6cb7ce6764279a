// What every report says beside its numbers.
#pragma once

namespace tuft::output {

/// What the program is not, and what to mind around an opened device.
constexpr const char* kCaution =
    "Caution: this is a prediction, no safety assessment. Mind hot surfaces, open chassis and batteries, and "
    "spinning fans; never use smoke or liquids inside electronics, do not leave a running device with blocked "
    "vents alone, and follow the maker's instructions and your local rules.";

/// The same in one line, where the answers are to fit one screen.
constexpr const char* kCautionLine =
    "Caution: no safety assessment. Mind heat, batteries, fans and your local rules.";

}  // namespace tuft::output
