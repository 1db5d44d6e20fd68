#include "modeler/job.hpp"

namespace standproud {

std::string to_string(LayerKind kind) {
    switch (kind) {
        case LayerKind::board:
            return "board";
        case LayerKind::membrane:
            return "membrane";
        case LayerKind::bed:
            return "bed";
        case LayerKind::panel:
            return "panel";
    }
    return {};
}

std::string to_string(Trade trade) {
    switch (trade) {
        case Trade::plumber:
            return "plumber";
        case Trade::electrician:
            return "electrician";
        case Trade::builder:
            return "builder";
        case Trade::installer:
            return "installer";
    }
    return {};
}

std::string to_string(Family family) {
    switch (family) {
        case Family::spindle:
            return "spindle";
        case Family::window:
            return "window";
        case Family::thread:
            return "thread";
        case Family::screw:
            return "screw";
        case Family::plate:
            return "plate";
    }
    return {};
}

std::string to_string(Across::From from) {
    switch (from) {
        case Across::From::left_bare:
            return "left bare";
        case Across::From::left_finished:
            return "left finished";
        case Across::From::right_bare:
            return "right bare";
        case Across::From::right_finished:
            return "right finished";
        case Across::From::centre:
            return "centre";
    }
    return {};
}

std::string to_string(PipeRun::Kind kind) {
    switch (kind) {
        case PipeRun::Kind::cold:
            return "cold pipe";
        case PipeRun::Kind::hot:
            return "hot pipe";
        case PipeRun::Kind::waste:
            return "waste pipe";
        case PipeRun::Kind::cable:
            return "cable";
    }
    return {};
}

}  // namespace standproud
