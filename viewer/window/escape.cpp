#include "window/escape.hpp"

#include <utility>

namespace standproud::viewer {

EscapeStep escape_step(const Standing& standing) {
    for (const auto& [there, step] :
         {std::pair{standing.list, EscapeStep::list}, std::pair{standing.form, EscapeStep::form},
          std::pair{standing.typing, EscapeStep::typing}, std::pair{standing.help, EscapeStep::help},
          std::pair{standing.section, EscapeStep::section}, std::pair{standing.tool, EscapeStep::tool},
          std::pair{standing.choice, EscapeStep::choice}, std::pair{standing.view, EscapeStep::view}}) {
        if (there) return step;
    }
    return EscapeStep::nothing;
}

}  // namespace standproud::viewer
