#include <fmt/format.h>

#include "modeler/cutting.hpp"

namespace standproud::cutting {

std::vector<Operation> plan_hanging(double seal_after) {
    std::vector<Operation> steps;
    const auto add = [&](Work work, Tool tool, Face up, std::string says) {
        const bool mirrored = work == Work::tape_and_bead;
        if (mirrored) says += " MIRRORED: left and right are swapped.";
        steps.push_back(
            {work, tool, up, mirrored, up == Face::front, {}, {}, std::move(says), "common practice, no source"});
    };
    add(Work::dry_fit, Tool::hand, Face::front,
        "Offer it up dry, both films on: does every hole clear its part, is every gap there?");
    add(Work::rear_film_off, Tool::hand, Face::rear,
        "Nothing left to mark, cut or drill? Peel the film off the REAR, so that nothing is stuck to film. The FRONT "
        "film stays on.");
    add(Work::scuff_rear, Tool::sander, Face::rear,
        "Take the shine off the whole rear with 240 grit, round and round, until no glossy patch is left.");
    add(Work::wipe_rear, Tool::cloth, Face::rear, "Wipe the rear, turning the cloth, until the cloth stays clean.");
    add(Work::tape_and_bead, Tool::cartridge_gun, Face::rear,
        "Tapes first, then beads and rings of neutral-cure adhesive, where the list for the rear has them.");
    add(Work::press_on, Tool::hand, Face::front,
        "Liners off the tapes; set it to its gaps and press it home, working over the whole face. Its front film is "
        "still on.");
    add(Work::leave, Tool::none, Face::front,
        fmt::format("Leave it alone for {:g} h: no sealing yet, and the front film stays on.", seal_after));
    add(Work::seal, Tool::cartridge_gun, Face::front,
        "Any spacers out, backing into joints deeper than their sealant, then neutral cure into every joint about it, "
        "none left open; smooth each run at once, before it skins.");
    add(Work::front_film_off, Tool::hand, Face::front,
        "Its joints smoothed, strip the FRONT film straight away in a single pull, while the sealant is still wet.");
    return steps;
}

}  // namespace standproud::cutting
