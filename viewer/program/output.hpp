// Where all that the program prints goes out: checked, and without signs that steer a terminal.
#pragma once

#include <fmt/format.h>

#include <string_view>
#include <utility>

#include "modeler/files.hpp"

namespace standproud::program {

/// Standard output takes no more.
struct OutputLost : FileError {
    using FileError::FileError;
};

/// Nobody reads standard output any longer, and nobody needs to be told.
struct ReaderGone : OutputLost {
    using OutputLost::OutputLost;
};

/// A write after the reader has gone is a fault that we see, not a signal that ends us; and no file that is opened is
/// taken for standard output where the caller closed it. Once, before anything else.
void set_up_output();

/// Colour only for a person at a terminal who has not asked for none (no-color.org).
bool wants_colour();

/// To standard output, at once. Control characters become spaces, but for ends of lines and, where colour is wanted,
/// the report's own colours. Throws OutputLost.
void put(std::string_view text);

/// To standard error. What cannot be written there cannot be told either.
void tell(std::string_view text);

template <class... Values>
void print(fmt::format_string<Values...> format, Values&&... values) {
    put(fmt::format(format, std::forward<Values>(values)...));
}

template <class... Values>
void remark(fmt::format_string<Values...> format, Values&&... values) {
    tell(fmt::format(format, std::forward<Values>(values)...));
}

}  // namespace standproud::program
