#pragma once

#include <cstdint>
#include <string_view>

namespace standproud {

/// FNV-1a of 64 bits: tells one from another and notices changes, does not withstand forgery.
constexpr std::uint64_t hash_of(std::string_view bytes) {
    std::uint64_t hash = 14695981039346656037ULL;
    for (const char c : bytes) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211ULL;
    return hash;
}

}  // namespace standproud
