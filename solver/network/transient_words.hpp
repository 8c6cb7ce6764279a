// Numbers in sentences.
#pragma once

#include <string>

namespace tuft::transient {

/// "90.0 °C" for kelvins.
std::string celsius(double kelvin);
/// "24.0 W".
std::string watts(double power);
/// "2580 rpm" for revolutions a second.
std::string turns(double speed);

}  // namespace tuft::transient
