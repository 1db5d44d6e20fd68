#include "state/places.hpp"

#include <algorithm>
#include <cctype>

namespace standproud::viewer {

std::optional<std::vector<PathPart>> path_parts(const std::string& path) {
    std::vector<PathPart> parts;
    std::size_t at = 0;
    while (at < path.size()) {
        if (path[at] == '[') {
            const std::size_t close = path.find(']', at);
            if (close == path.npos || close == at + 1 || parts.empty()) return std::nullopt;
            const std::string digits = path.substr(at + 1, close - at - 1);
            if (digits.size() > 6 || digits.find_first_not_of("0123456789") != digits.npos) return std::nullopt;
            parts.push_back({"", std::stoul(digits), true});
            at = close + 1;
            continue;
        }
        if (path[at] == '.') {
            if (parts.empty()) return std::nullopt;
            ++at;
        } else if (!parts.empty()) {
            return std::nullopt;
        }
        const std::size_t end = std::min(path.find_first_of(".[", at), path.size());
        const std::string key = path.substr(at, end - at);
        const bool plain = !key.empty() && std::all_of(key.begin(), key.end(), [](unsigned char c) {
            return std::isalnum(c) || c == '_' || c == '-';
        });
        if (!plain) return std::nullopt;
        parts.push_back({key, 0, false});
        at = end;
    }
    if (parts.empty()) return std::nullopt;
    return parts;
}

const toml::node* node_at(const toml::table& tree, const std::vector<PathPart>& path) {
    const toml::node* node = &tree;
    for (const auto& part : path) {
        if (part.is_index) {
            const auto* list = node->as_array();
            node = list && part.index < list->size() ? list->get(part.index) : nullptr;
        } else {
            const auto* table = node->as_table();
            node = table ? table->get(part.key) : nullptr;
        }
        if (!node) return nullptr;
    }
    return node;
}

Places::Places(const std::string& text) : text_(&text), tree_(toml::parse(text)) {
    lines_.push_back(0);
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] == '\n') lines_.push_back(i + 1);
    }
}

std::optional<Places> Places::of(const std::string& text) {
    try {
        return Places(text);
    } catch (const toml::parse_error&) {
        return std::nullopt;
    }
}

std::size_t Places::byte_of(const toml::source_position& place) const {
    // The parser counts lines and characters from 1, a character being one code point.
    std::size_t byte = lines_.at(place.line - 1);
    if (place.line == 1 && text_->rfind("\xEF\xBB\xBF", 0) == 0) byte = 3;  // a byte order mark is not counted
    for (toml::source_index column = 1; column < place.column && byte < text_->size(); ++column) {
        ++byte;
        while (byte < text_->size() && (static_cast<unsigned char>((*text_)[byte]) & 0xC0) == 0x80) ++byte;
    }
    return byte;
}

namespace {

std::size_t end_of_string(const std::string& text, std::size_t at) {
    const char quote = text[at];
    const std::string triple(3, quote);
    if (text.compare(at, 3, triple) == 0) {
        std::size_t end = at + 3;
        while (end < text.size()) {
            if (quote == '"' && text[end] == '\\') {
                end += 2;
                continue;
            }
            if (text.compare(end, 3, triple) == 0) {
                end += 3;
                while (end < text.size() && text[end] == quote) ++end;  // quotes that end the text itself
                return end;
            }
            ++end;
        }
        return text.size();
    }
    std::size_t end = at + 1;
    while (end < text.size() && text[end] != quote) end += quote == '"' && text[end] == '\\' ? 2 : 1;
    return std::min(end + 1, text.size());
}

std::size_t end_of_brackets(const std::string& text, std::size_t at) {
    int depth = 0;
    while (at < text.size()) {
        const char c = text[at];
        if (c == '"' || c == '\'') {
            at = end_of_string(text, at);
            continue;
        }
        if (c == '#') at = std::min(text.find('\n', at), text.size());
        if (c == '[' || c == '{') ++depth;
        if ((c == ']' || c == '}') && --depth == 0) return at + 1;
        ++at;
    }
    return text.size();
}

}  // namespace

std::size_t Places::end_of_value(std::size_t begin) const {
    const std::string& text = *text_;
    if (begin >= text.size()) return text.size();
    if (text[begin] == '"' || text[begin] == '\'') return end_of_string(text, begin);
    if (text[begin] == '[' || text[begin] == '{') return end_of_brackets(text, begin);
    return std::min(text.find_first_of(",]}# \t\r\n", begin), text.size());
}

std::size_t Places::line_begin(std::size_t byte) const {
    return *(std::upper_bound(lines_.begin(), lines_.end(), byte) - 1);
}

std::size_t Places::line_end(std::size_t byte) const {
    std::size_t end = std::min(text_->find('\n', byte), text_->size());
    if (end > byte && (*text_)[end - 1] == '\r') --end;
    return end;
}

std::size_t Places::next_line(std::size_t byte) const {
    const std::size_t end = text_->find('\n', byte);
    return end == text_->npos ? text_->size() : end + 1;
}

namespace {

void collect_headers(const toml::node& node, const std::string& name,
                     std::vector<std::pair<toml::source_position, std::string>>& headers) {
    if (const auto* table = node.as_table()) {
        if (table->is_inline()) return;
        headers.emplace_back(table->source().begin, name);
        for (const auto& [key, value] : *table) {
            collect_headers(value, name.empty() ? std::string(key.str()) : name + "." + std::string(key.str()),
                            headers);
        }
    } else if (const auto* list = node.as_array()) {
        for (const auto& item : *list) {
            if (item.is_table()) collect_headers(item, name + "[]", headers);
        }
    }
}

}  // namespace

std::size_t Places::end_of_block(std::size_t byte, const std::string& prefix) const {
    std::vector<std::pair<toml::source_position, std::string>> headers;
    collect_headers(tree_, "", headers);
    std::size_t end = text_->size();
    for (const auto& [place, name] : headers) {
        if (!place) continue;
        const std::size_t at = byte_of(place);
        const bool header = at < text_->size() && (*text_)[at] == '[';
        if (header && at > byte && name.rfind(prefix + ".", 0) != 0) end = std::min(end, line_begin(at));
    }
    return end;
}

std::string Places::line_feed() const { return text_->find("\r\n") == text_->npos ? "\n" : "\r\n"; }

}  // namespace standproud::viewer
