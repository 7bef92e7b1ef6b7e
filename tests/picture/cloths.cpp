// SPDX-License-Identifier: MIT
#include "picture/cloths.h"

#include <stdexcept>

#include "fabric/hands.h"
#include "fabric/knitter.h"

namespace loopmend {

SeenCloth seenCloth(int stitches, int rows, Oddity oddity, bool relaxed) {
    Script script;
    script.castOn = stitches;
    for (int r = 1; r <= rows; ++r) {
        WorkedRow row;
        row.number = row.printed = r;
        row.facing = r % 2 == 1 ? Facing::right : Facing::wrong;
        const auto put = [&](Op op) {
            Step step;
            step.op = op;
            row.steps.push_back(step);
        };
        const int middle = stitches / 2 - 1;
        for (int i = 0; i < stitches; ++i) {
            const bool odd = r == rows / 2 + rows / 2 % 2 + 1 && i == middle;
            if (odd && oddity == Oddity::crossed) {
                Step step;
                step.op = Op::cable;
                step.over = 1;
                step.under = 1;
                step.front = true;
                row.steps.push_back(step);
                ++i;
                continue;
            }
            const bool knit = (r % 2 == 1) != (odd && oddity == Oddity::bump);
            put(knit ? Op::knit : Op::purl);
        }
        script.rows.push_back(std::move(row));
    }
    auto done = knit(script);
    if (!done) throw std::logic_error(sentence(done.error()));
    SeenCloth cloth{std::move(*done), {}};
    if (oddity == Oddity::ladder) {
        Fabric& f = *cloth.knitting.fabric;
        std::vector<LoopId> live;
        for (HeldId h = f[f.needle()].first; h; h = f[h].next) live.push_back(f[h].loop);
        const LoopId drop = live[live.size() / 2];
        if (!f.letGo(drop, f.needle(), false)) throw std::logic_error("a stitch does not fall");
        if (letRunFrom(f, drop, rows / 2) == 0) throw std::logic_error("a stitch does not run");
    }
    ClothOptions options;
    options.relaxed = relaxed;
    Cloth shape = Cloth::drawn(cloth.fabric(), options);
    if (relaxed) shape.advance(300);
    cloth.path = shape.path();
    return cloth;
}

}  // namespace loopmend
