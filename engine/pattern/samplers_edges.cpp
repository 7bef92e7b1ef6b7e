// SPDX-License-Identifier: MIT
#include "pattern/samplers.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "pattern/counts.h"
#include "pattern/parse.h"

namespace loopmend {

namespace {

constexpr int kStitches = 12;

/// What is to be looked at in a piece that is given in words.
struct Look {
    std::vector<Op> shows;
    int row = 0;
    int stitch = 0;
};

/// Rows in words, one after another; row 1 faces right. A row that cannot be read or worked leaves the script
/// empty, which no test of samplers lets pass.
Script written(const std::vector<std::string>& rows, bool round = false, bool wrongFirst = false) {
    std::string text;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        text += fmt::format("{} {}{}: {}.\n", round ? "Rnd" : "Row", i + 1,
                            round || i > 0 ? ""
                            : wrongFirst   ? " (WS)"
                                           : " (RS)",
                            rows[i]);
    }
    return expand(parse(text), kStitches, static_cast<int>(rows.size())).value_or(Script{});
}

Sampler sampler(std::string id, std::string words, Look look, Script script,
                CastOn castOn = CastOn::longTail) {
    Sampler made;
    made.id = std::move(id);
    made.name = std::move(words);
    made.shows = std::move(look.shows);
    made.row = look.row;
    made.stitch = look.stitch;
    made.script = std::move(script);
    made.setup.castOn = castOn;
    return made;
}

/// n plain rows, the first one knitted, and what follows them.
std::vector<std::string> plain(int n, const std::vector<std::string>& then = {}, bool wrongFirst = false) {
    std::vector<std::string> rows;
    rows.reserve(static_cast<std::size_t>(n));
    for (int i = 0; i < n; ++i) rows.emplace_back((i % 2 == 0) != wrongFirst ? "k to end" : "p to end");
    rows.insert(rows.end(), then.begin(), then.end());
    return rows;
}

std::vector<std::string> garter(int n, const std::vector<std::string>& then = {}) {
    std::vector<std::string> rows(static_cast<std::size_t>(n), "k to end");
    rows.insert(rows.end(), then.begin(), then.end());
    return rows;
}

std::vector<std::string> slipped(int n, const std::vector<std::string>& then = {}) {
    std::vector<std::string> rows;
    rows.reserve(static_cast<std::size_t>(n));
    for (int i = 0; i < n; ++i) rows.emplace_back(i % 2 == 0 ? "sl1, k to end" : "sl1, p to end");
    rows.insert(rows.end(), then.begin(), then.end());
    return rows;
}

void castOns(std::vector<Sampler>& all) {
    const std::pair<CastOn, const char*> kinds[] = {
        {CastOn::longTail, "long-tail"}, {CastOn::backward, "backward-loop"}, {CastOn::knitted, "knitted"}};
    for (const auto& [kind, word] : kinds) {
        const Op op = kind == CastOn::knitted ? Op::castOnKnitted : Op::castOn;
        const std::string id = fmt::format("cast-on-{}", word);
        const std::string name = fmt::format("cast on, {}", word);
        all.push_back(sampler(id, name, {{op}, 1, 0}, written(plain(12)), kind));
        all.push_back(sampler(id + "-ws", name + ", begun on the wrong side", {{op}, 1, 0},
                              written(plain(12, {}, true), false, true), kind));
        all.push_back(sampler(id + "-round", name + ", joined in the round", {{op}, 1, 0},
                              written(std::vector<std::string>(12, "k to end"), true), kind));
    }
    // Low: there it is seen at the cast-on edge, which goes over the needle and back under it.
    Script twisted = written(std::vector<std::string>(1, "k to end"), true);
    twisted.twist = 2;
    all.push_back(
        sampler("round-twisted", "joined in the round with a twist", {{Op::castOn}, 1, 0}, twisted));
    const std::pair<Op, const char*> inRow[] = {
        {Op::castOn, ""}, {Op::castOnRight, " turned right"}, {Op::castOnKnitted, " knitted"}};
    for (const auto& [op, word] : inRow) {
        const std::string id = op == Op::castOn        ? "more-cast-on"
                               : op == Op::castOnRight ? "more-cast-on-right"
                                                       : "more-cast-on-knitted";
        const std::string words = fmt::format("cast on 3{}", word);
        for (const bool wrong : {false, true}) {
            // Backward loops go on at the end of a row, knitted ones at the start of one.
            const std::string plainWord = wrong ? "p to end" : "k to end";
            const std::string here = op == Op::castOnKnitted ? fmt::format("{}, {}", words, plainWord)
                                                             : fmt::format("{}, {}", plainWord, words);
            std::vector<std::string> rows = plain(wrong ? 5 : 4, {here});
            const int row = static_cast<int>(rows.size());
            while (rows.size() < 12) rows.emplace_back(rows.size() % 2 == 0 ? "k to end" : "p to end");
            all.push_back(sampler(id + (wrong ? "-ws" : ""),
                                  fmt::format("{} more{}", words, wrong ? ", on the wrong side" : ""),
                                  {{op}, row, 0}, written(rows)));
        }
    }
}

void bindOffs(std::vector<Sampler>& all) {
    const auto end = [&](const std::string& id, const std::string& name, std::vector<Op> shows,
                         const std::string& words, int rows = 12) {
        all.push_back(sampler(id, name, {std::move(shows), rows + 1, 0}, written(plain(rows, {words}))));
    };
    end("bind-off", "bind off", {Op::bindOff}, "bind off to end");
    end("bind-off-ws", "bind off, knitting on the wrong side", {Op::bindOff}, "bind off to end", 11);
    end("bind-off-purlwise", "bind off purlwise", {Op::bindOffPurl}, "bind off purlwise to end");
    end("bind-off-purlwise-ws", "bind off purlwise on the wrong side", {Op::bindOffPurl},
        "bind off purlwise to end", 11);
    end("picot-bind-off", "picot bind-off", {Op::castOnKnitted, Op::bindOff},
        "*cast on 2 knitted, bind off 4; rep from * to end");
    end("picot-bind-off-ws", "picot bind-off, on the wrong side", {Op::castOnKnitted, Op::bindOff},
        "*cast on 2 knitted, bind off 4; rep from * to end", 11);
    all.push_back(sampler("three-needle-bind-off", "bind off two pieces together, right sides inside",
                          {{Op::bindOffTogether}, 12, 0},
                          written(plain(10, {"hold 6, k6", "bind off together to end"}))));
    all.push_back(sampler("three-needle-bind-off-outside", "bind off two pieces together, wrong sides inside",
                          {{Op::bindOffTogether}, 13, 0},
                          written(plain(10, {"hold 6, k6", "p6", "bind off together to end"}))));
    all.push_back(sampler("buttonhole", "bind off in mid-row, cast on again",
                          {{Op::bindOff, Op::castOn}, 5, 5},
                          written(plain(4, {"k4, bind off 3, k5", "p5, cast on 3, p4", "k to end", "p to end",
                                            "k to end", "p to end", "k to end", "p to end"}))));
}

void selvedges(std::vector<Sampler>& all) {
    all.push_back(sampler("slipped-edge", "first stitch of every row slipped", {{Op::slipPurlwiseBack}, 5, 1},
                          written(slipped(12))));
    std::vector<std::string> last;
    std::vector<std::string> knots;
    for (int i = 0; i < 12; ++i) {
        last.emplace_back(i % 2 == 0 ? "k to last st, sl1 wyif" : "k1, p to last st, sl1 wyif");
        knots.emplace_back(i % 2 == 0 ? "k to end" : "k1, p to last st, k1");
    }
    all.push_back(sampler("slipped-edge-last", "last stitch of every row slipped",
                          {{Op::slipPurlwiseFront}, 5, kStitches}, written(last)));
    all.push_back(sampler("garter-edge", "first and last stitch knitted in every row", {{Op::knit}, 6, 1},
                          written(knots)));
}

void turns(std::vector<Sampler>& all) {
    const auto shortRow = [&](const std::string& id, const std::string& name, std::vector<Op> shows,
                              const std::string& out, const std::string& back, const std::string& over,
                              bool wrong) {
        std::vector<std::string> rows = plain(wrong ? 5 : 4, {out, back, over});
        const int row = static_cast<int>(rows.size()) - 2;
        while (rows.size() < 12) rows.emplace_back(rows.size() % 2 == 0 ? "k to end" : "p to end");
        all.push_back(sampler(id + (wrong ? "-ws" : ""), name + (wrong ? ", turned on the wrong side" : ""),
                              {std::move(shows), row, 8}, written(rows)));
    };
    for (const bool wrong : {false, true}) {
        const char* a = wrong ? "p" : "k";
        const char* b = wrong ? "k" : "p";
        const std::string back = fmt::format("{} to end", b);
        shortRow("short-row", "turned in mid-row", {Op::turn}, fmt::format("{}8, turn", a), back,
                 fmt::format("{} to end", a), wrong);
        shortRow("short-row-wrapped", "wrapped and turned, the wrap worked later with its stitch",
                 {Op::wrapTurn, wrong ? Op::purlWithWrap : Op::knitWithWrap}, fmt::format("{}8, w&t", a),
                 back, fmt::format("{0}8, {0}1 with its wrap, {0} to end", a), wrong);
        shortRow("short-row-wrap-left", "wrapped and turned, the wrap left as it lies", {Op::wrapTurn},
                 fmt::format("{}8, w&t", a), back, fmt::format("{} to end", a), wrong);
        shortRow("short-row-doubled", "turned, the stitch at the turn doubled",
                 {Op::doubled, wrong ? Op::purlDoubled : Op::knitDoubled}, fmt::format("{}8, turn", a),
                 fmt::format("ds, {} to end", b), fmt::format("{} to end", a), wrong);
    }
    all.push_back(sampler("short-rows-wrapped-both", "wrapped and turned toward both sides",
                          {{Op::wrapTurn}, 6, 6},
                          written(plain(4, {"k9, w&t", "p6, w&t", "k6, k1 with its wrap, k to end",
                                            "p9, p1 with its wrap, p to end", "k to end", "p to end",
                                            "k to end", "p to end"}))));
    all.push_back(sampler("short-rows-doubled-both", "doubled at turns toward both sides",
                          {{Op::doubled}, 6, 1},
                          written(plain(4, {"k9, turn", "ds, p5, turn", "ds, k to end", "p to end",
                                            "k to end", "p to end", "k to end", "p to end"}))));
    std::vector<std::string> rounds(4, "k to end");
    for (const char* rnd : {"k9, w&t", "p5, w&t", "k5, k1 with its wrap, k to end",
                            "k3, k1 with its wrap, k to end", "k to end", "k to end", "k to end", "k to end"})
        rounds.emplace_back(rnd);
    all.push_back(sampler("short-rows-round", "wrapped and turned in the round", {{Op::wrapTurn}, 5, 9},
                          written(rounds, true)));
    rounds.resize(4);
    for (const char* rnd : {"k9, turn", "ds, p5, turn", "ds, k to end", "k to end", "k to end", "k to end",
                            "k to end", "k to end"})
        rounds.emplace_back(rnd);
    all.push_back(sampler("short-rows-round-doubled", "doubled at turns in the round", {{Op::doubled}, 6, 1},
                          written(rounds, true)));
    all.push_back(
        sampler("heel", "a small heel, turned", {{Op::turn}, 5, 10},
                written(plain(4, {"k7, skp, k1, turn", "sl1, p3, p2tog, p1, turn", "sl1, k4, skp, k1, turn",
                                  "sl1, p5, p2tog, p1", "k to end", "p to end", "k to end", "p to end"}))));
}

void pickedUp(std::vector<Sampler>& all) {
    const auto along = [&](const std::string& id, const std::string& name, std::vector<std::string> rows,
                           bool purl = false) {
        const int row = static_cast<int>(rows.size());
        for (int i = 0; i < 4; ++i) rows.emplace_back((i % 2 == 0) != purl ? "p to end" : "k to end");
        Script script = written(rows);
        all.push_back(sampler(id, name, {{Op::pickUp}, row, 0}, std::move(script)));
    };
    along("pick-up-side", "picked up along the rows' ends, three for four rows",
          plain(12, {"bind off 11, k1, pick up and knit 9 along the edge"}));
    along("pick-up-side-ws", "picked up along the rows' ends with the wrong side facing",
          plain(13, {"bind off 11 purlwise, p1, pick up and knit 9 along the edge"}), true);
    along("pick-up-garter", "picked up along a garter edge, one for every ridge",
          garter(12, {"bind off 11, k1, pick up and knit 6 along the edge"}));
    along("pick-up-slipped", "picked up along a slipped edge, one for every chain",
          slipped(12, {"bind off 11, k1, pick up and knit 6 along the edge"}));
    const auto again = [&](const std::string& id, const std::string& name, const std::string& edge) {
        std::vector<std::string> rows = plain(11, {"bind off to end"});
        rows.push_back(fmt::format("with B pick up and knit 12 along the {} edge", edge));
        const int row = static_cast<int>(rows.size());
        for (int i = 0; i < 4; ++i) rows.emplace_back(i % 2 == 0 ? "with B p to end" : "with B k to end");
        all.push_back(sampler(id, name, {{Op::pickUp}, row, 0}, written(rows)));
    };
    again("pick-up-cast-on", "picked up along the cast-on edge with another yarn", "cast-on");
    again("pick-up-bound-off", "picked up along the bound-off edge with another yarn", "bound-off");
}

}  // namespace

std::vector<Sampler> edgeSamplers() {
    std::vector<Sampler> all;
    castOns(all);
    bindOffs(all);
    selvedges(all);
    turns(all);
    pickedUp(all);
    return all;
}

}  // namespace loopmend
