// Broad phase, and the pairs of a whole room.
//
// Boxes lie in a binary tree, halved at the middle of the longest side: built in n log n, asked in log n. It was measured
// against sorting along one axis and sweeping (tests/bench/clearance_bench.cpp), which on a long room meets too many
// pairs.
#include <algorithm>
#include <atomic>
#include <cmath>
#include <numeric>
#include <thread>

#include "clearance/convex.hpp"

namespace standproud {

namespace {

constexpr std::size_t leaf_size = 4;

struct Node {
    Box box;
    std::size_t first = 0, last = 0;  // of the order; a leaf where `right` is 0
    std::size_t right = 0;            // the left child follows its parent
};

struct Tree {
    std::vector<std::size_t> order;
    std::vector<Node> nodes;
};

Box around(const Box& a, const Box& b) {
    return {{std::min(a.low.x, b.low.x), std::min(a.low.y, b.low.y), std::min(a.low.z, b.low.z)},
            {std::max(a.high.x, b.high.x), std::max(a.high.y, b.high.y), std::max(a.high.z, b.high.z)}};
}

bool near(const Box& a, const Box& b, double within) {
    return a.low.x <= b.high.x + within && b.low.x <= a.high.x + within && a.low.y <= b.high.y + within &&
           b.low.y <= a.high.y + within && a.low.z <= b.high.z + within && b.low.z <= a.high.z + within;
}

double twice_middle(const Box& box, int axis) {
    return axis == 0 ? box.low.x + box.high.x : axis == 1 ? box.low.y + box.high.y : box.low.z + box.high.z;
}

void build(Tree& tree, const std::vector<Body>& bodies, std::size_t first, std::size_t last) {
    const std::size_t here = tree.nodes.size();
    Node node{bodies[tree.order[first]].box, first, last, 0};
    double low[3] = {1e300, 1e300, 1e300};
    double high[3] = {-1e300, -1e300, -1e300};
    for (std::size_t i = first; i < last; ++i) {
        const Box& box = bodies[tree.order[i]].box;
        node.box = around(node.box, box);
        for (int axis = 0; axis < 3; ++axis) {
            low[axis] = std::min(low[axis], twice_middle(box, axis));
            high[axis] = std::max(high[axis], twice_middle(box, axis));
        }
    }
    tree.nodes.push_back(node);
    if (last - first <= leaf_size) return;
    int longest = 0;
    for (int axis = 1; axis < 3; ++axis) {
        if (high[axis] - low[axis] > high[longest] - low[longest]) longest = axis;
    }
    const auto begin = tree.order.begin();
    const std::size_t middle = (first + last) / 2;
    std::nth_element(begin + static_cast<std::ptrdiff_t>(first), begin + static_cast<std::ptrdiff_t>(middle),
                     begin + static_cast<std::ptrdiff_t>(last), [&](std::size_t i, std::size_t j) {
                         return twice_middle(bodies[i].box, longest) < twice_middle(bodies[j].box, longest);
                     });
    build(tree, bodies, first, middle);
    tree.nodes[here].right = tree.nodes.size();
    build(tree, bodies, middle, last);
}

void look(const Tree& tree, const std::vector<Body>& bodies, std::size_t at, std::size_t body, double within,
          std::vector<std::pair<std::size_t, std::size_t>>& found) {
    const Node& node = tree.nodes[at];
    if (!near(node.box, bodies[body].box, within)) return;
    if (node.right != 0) {
        look(tree, bodies, at + 1, body, within, found);
        look(tree, bodies, node.right, body, within, found);
        return;
    }
    for (std::size_t i = node.first; i < node.last; ++i) {
        const std::size_t other = tree.order[i];
        if (other > body && near(bodies[other].box, bodies[body].box, within)) found.emplace_back(body, other);
    }
}

}  // namespace

std::vector<std::pair<std::size_t, std::size_t>> near_boxes(const std::vector<Body>& bodies, double within) {
    Tree tree;
    for (std::size_t i = 0; i < bodies.size(); ++i) {
        if (!bodies[i].pieces.empty()) tree.order.push_back(i);
    }
    std::vector<std::pair<std::size_t, std::size_t>> found;
    if (tree.order.empty()) return found;
    const std::vector<std::size_t> asked = tree.order;  // building shuffles the order
    tree.nodes.reserve(2 * tree.order.size());
    build(tree, bodies, 0, tree.order.size());
    for (const std::size_t body : asked) {
        const std::size_t before = found.size();
        look(tree, bodies, 0, body, within, found);
        std::sort(found.begin() + static_cast<std::ptrdiff_t>(before), found.end());
    }
    return found;
}

namespace {

using Pairs = std::vector<std::pair<std::size_t, std::size_t>>;

double wanted(const Nearness& nearness, std::size_t a, std::size_t b) {
    return nearness.within ? std::min(nearness.within(a, b), nearness.largest) : nearness.largest;
}

/// Each pair's answer has its own place, so that threads do not change the result.
std::vector<Separation> measured(const std::vector<Body>& bodies, const Pairs& pairs, const Nearness& nearness) {
    std::vector<Separation> all(pairs.size());
    std::vector<char> keep(pairs.size(), 0);
    const auto measure = [&](std::size_t i) {
        const auto [a, b] = pairs[i];
        const double within = wanted(nearness, a, b);
        if (within < 0 || !near(bodies[a].box, bodies[b].box, within)) return;
        Separation s = separation(bodies[a], bodies[b]);
        if (s.distance > within && s.decided) return;
        s.a = a;
        s.b = b;
        all[i] = s;
        keep[i] = 1;
    };
    constexpr std::size_t share = 32;  // pairs that a thread takes at a time
    const unsigned most = nearness.threads != 0 ? nearness.threads : std::max(1U, std::thread::hardware_concurrency());
    const std::size_t useful = std::min<std::size_t>(most, pairs.size() / (4 * share));
    if (useful <= 1) {
        for (std::size_t i = 0; i < pairs.size(); ++i) measure(i);
    } else {
        std::atomic<std::size_t> next{0};
        const auto work = [&] {
            for (std::size_t from = next.fetch_add(share); from < pairs.size(); from = next.fetch_add(share)) {
                for (std::size_t i = from; i < std::min(from + share, pairs.size()); ++i) measure(i);
            }
        };
        std::vector<std::jthread> threads;
        for (std::size_t i = 1; i < useful; ++i) threads.emplace_back(work);
        work();
    }
    std::vector<Separation> kept;
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (keep[i]) kept.push_back(all[i]);
    }
    return kept;
}

}  // namespace

std::vector<Separation> near_pairs(const std::vector<Body>& bodies, const Nearness& nearness) {
    return measured(bodies, near_boxes(bodies, nearness.largest), nearness);
}

std::vector<Separation> near_pairs(const std::vector<Separation>& previous, const std::vector<Body>& bodies,
                                   const std::vector<std::size_t>& changed, const Nearness& nearness) {
    std::vector<char> is_changed(bodies.size(), 0);
    for (const std::size_t i : changed) {
        if (i < bodies.size()) is_changed[i] = 1;
    }
    Pairs pairs;
    for (std::size_t i = 0; i < bodies.size(); ++i) {
        if (!is_changed[i] || bodies[i].pieces.empty()) continue;
        for (std::size_t j = 0; j < bodies.size(); ++j) {
            if (j == i || bodies[j].pieces.empty() || (is_changed[j] && j < i)) continue;
            if (near(bodies[i].box, bodies[j].box, nearness.largest)) pairs.emplace_back(std::min(i, j), std::max(i, j));
        }
    }
    std::sort(pairs.begin(), pairs.end());
    const auto again = measured(bodies, pairs, nearness);
    std::vector<Separation> stay;
    for (const auto& s : previous) {
        if (s.b < bodies.size() && !is_changed[s.a] && !is_changed[s.b]) stay.push_back(s);
    }
    std::vector<Separation> all;
    all.reserve(stay.size() + again.size());
    std::merge(stay.begin(), stay.end(), again.begin(), again.end(), std::back_inserter(all),
               [](const Separation& x, const Separation& y) { return std::pair(x.a, x.b) < std::pair(y.a, y.b); });
    return all;
}

}  // namespace standproud
