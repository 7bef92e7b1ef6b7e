// SPDX-License-Identifier: MIT
// What a stitch is, what it looks like from behind, and what lies on top.
#include <fmt/format.h>

#include "tutor/question_cloth.h"

namespace loopmend {

namespace {

Reply replyFor(const AskedCloth& cloth, const Symbol& right, const Symbol& wrong) {
    const bool fromRight = cloth.seen() == Side::right;
    return {code(right), sightWords(fromRight ? right : wrong, cloth.terms()),
            sightWords(fromRight ? wrong : right, cloth.terms())};
}

Reply turnedOver(Reply reply) {
    std::swap(reply.text, reply.turned);
    return reply;
}

Symbol plain(Face face) {
    Symbol s;
    s.face = face;
    return s;
}

/// What may be taken for it without any mistake: both faces, the hole, two together.
std::vector<std::pair<Symbol, Symbol>> usual() {
    Symbol hole;
    hole.sight = Sight::hole;
    Symbol twist;
    twist.twist = 1;
    Symbol twistBehind = twist;
    twistBehind.face = Face::bump;
    Symbol slipped;
    slipped.sight = Sight::slipped;
    return {{plain(Face::v), plain(Face::bump)},
            {plain(Face::bump), plain(Face::v)},
            {hole, hole},
            {twist, twistBehind},
            {slipped, slipped}};
}

std::string misbelief(const Symbol& truth, const Symbol& taken) {
    if (truth.sight == Sight::hole) return "a hole is a missing stitch";
    if (taken.sight == Sight::hole) return "any gap is a yarn over";
    if (taken.sight == Sight::slipped) return "a bar in front is a slipped stitch";
    if (taken.twist != 0) return "a leaning V is a twisted one";
    return taken.face == Face::v ? "a right-side row is knit on both faces"
                                 : "a row that was purled shows purls";
}

std::string signOf(const Symbol& s) {
    if (s.crossing != Lean::none) return "its column changes places with the next";
    switch (s.sight) {
        case Sight::hole: return "a strand lies over a gap, and nothing stands under it";
        case Sight::together:
            return s.bases > 2 ? "three columns become one there" : "two columns become one there";
        case Sight::made: return "a new column begins there, on the bar";
        case Sight::slipped: return "the yarn goes straight past it";
        default:
            if (s.tall > 0) return "it is as tall as two rows";
            if (s.sisters > 1) return "two columns grow out of one stitch there";
            if (s.twist != 0) return "its feet cross";
            return s.face == Face::v ? "two legs meet at the foot, and the head lies behind"
                                     : "the head of the stitch below lies across, in front";
    }
}

void fillWrong(AskedCloth& cloth, LoopId loop, Answers& answers, const Symbol& truth, bool turned) {
    constexpr int kMost = 3;
    constexpr int kTries = 12;
    int tries = 0;
    cloth.otherwise(loop, [&](const Otherwise& o) {
        if (o.right->symbol.live || o.right->symbol.sight == Sight::rung) return ++tries < kTries;
        Reply reply = replyFor(cloth, o.right->symbol, o.wrong->symbol);
        if (turned) reply = turnedOver(std::move(reply));
        answers.wrong(reply, fmt::format("Look once more: {}.", signOf(truth)), std::string(o.fault));
        return answers.wrongs() < kMost && ++tries < kTries;
    });
    for (const auto& [right, wrong] : usual()) {
        if (answers.wrongs() >= kMost) break;
        Reply reply = replyFor(cloth, right, wrong);
        if (turned) reply = turnedOver(std::move(reply));
        answers.wrong(reply, fmt::format("Look once more: {}.", signOf(truth)), misbelief(truth, right));
    }
}

std::string oneOf(std::string_view of) {
    return of.empty() ? std::string("stitch of that kind") : fmt::format("stitch of that kind ({})", of);
}

/// The stitch that is asked about, as it looks from where she sees it and from behind.
struct FromBoth {
    LoopId loop;
    Symbol here;
    Symbol behind;
    Reply truth;
};

tl::expected<FromBoth, std::string> chosenFromBoth(AskedCloth& cloth, std::string_view toBe) {
    const LoopId loop = cloth.choose(cloth.stitches(cloth.wanted.of));
    if (!loop) {
        return tl::make_unexpected(
            fmt::format("there is no {} there to be {}", oneOf(cloth.wanted.of), toBe));
    }
    const Cell* here = cloth.cellSeen(loop);
    const Cell* behind = cellOf(cloth.reading(opposite(cloth.seen())), loop);
    if (here == nullptr || behind == nullptr)
        return tl::make_unexpected(std::string("that stitch cannot be seen"));
    const bool fromRight = cloth.seen() == Side::right;
    return FromBoth{loop, here->symbol, behind->symbol,
                    replyFor(cloth, fromRight ? here->symbol : behind->symbol,
                             fromRight ? behind->symbol : here->symbol)};
}

}  // namespace

Asked askName(AskedCloth& cloth) {
    const auto stitch = chosenFromBoth(cloth, "named");
    if (!stitch) return cannotAsk(stitch.error());
    const auto& [loop, here, behind, truth] = *stitch;
    Answers answers;
    answers.right(truth, fmt::format("Yes: {}.", signOf(here)));
    if (here.sight == Sight::stitch) {
        // V or bump is the first thing to tell.
        const bool fromRight = cloth.seen() == Side::right;
        const Face otherFace = here.face == Face::v ? Face::bump : Face::v;
        answers.wrong(replyFor(cloth, plain(fromRight ? otherFace : here.face),
                               plain(fromRight ? here.face : otherFace)),
                      fmt::format("Look once more: {}.", signOf(here)), "wrong_kp");
    }
    fillWrong(cloth, loop, answers, here, false);
    Question q;
    q.words = fmt::format("What is the lit stitch, as it faces you? It is {}.", cloth.place(loop));
    q.about = {litLoop(PageMarkKind::notice, loop)};
    q.answers = answers.mixed(cloth.dice);
    return finished(std::move(q), cloth, loop,
                    {fmt::format("Look at the lit stitch: {}.", cloth.place(loop)),
                     "See whether two legs meet at the foot, or a head lies across it.",
                     fmt::format("Here {}.", signOf(here)), fmt::format("The answer: {}.", truth.text)});
}

Asked askTurned(AskedCloth& cloth) {
    const auto stitch = chosenFromBoth(cloth, "turned");
    if (!stitch) return cannotAsk(stitch.error());
    const auto& [loop, here, behind, asItLies] = *stitch;
    const Reply truth = turnedOver(asItLies);
    Answers answers;
    answers.right(truth, "Yes. It is one and the same stitch, seen from behind.");
    // What it looks like from here is the first thing to say.
    if (sightWords(here, cloth.terms()) != truth.text) {
        const Reply same{"the-same-as-here", sightWords(here, cloth.terms()),
                         sightWords(behind, cloth.terms())};
        answers.wrong(same, "That is how it looks from here. Its head goes the other way on the other face.",
                      "a stitch looks the same from both sides");
    }
    fillWrong(cloth, loop, answers, behind, true);
    Question q;
    q.words = fmt::format("Look at the lit stitch: {}. What will it look like when you turn the work over?",
                          cloth.place(loop));
    q.about = {litLoop(PageMarkKind::notice, loop)};
    q.answers = answers.mixed(cloth.dice);
    return finished(std::move(q), cloth, loop,
                    {fmt::format("Look at the lit stitch: {}.", cloth.place(loop)),
                     "What lies behind on this face lies in front on the other.",
                     "Every knit stitch has a purl on its back. You may turn it over and see.",
                     fmt::format("The answer: {}.", truth.text)});
}

namespace {

Asked askArm(AskedCloth& cloth) {
    const LoopId loop = cloth.choose(cloth.stitches("cable"));
    const Cell* here = loop ? cloth.cell(loop) : nullptr;
    if (here == nullptr) return cannotAsk("there is no cable there");
    const bool right = here->symbol.crossing == Lean::right;
    const Reply toRight = fixed("right", "The arm that goes up to the right");
    const Reply toLeft = fixed("left", "The arm that goes up to the left");
    const char* why = "Follow one arm up: where it is never hidden, it is on top.";
    Answers answers;
    answers.right(right ? toRight : toLeft, "Yes: that arm is never hidden.");
    answers.wrong(right ? toLeft : toRight, why, "miscrossed");
    answers.wrong(fixed("neither", "Neither: they go up side by side"), why, "cross_missed");
    Question q;
    q.words =
        fmt::format("Which arm of this crossing is on top? Look at the lit stitch: {}.", cloth.place(loop));
    q.about = {litLoop(PageMarkKind::notice, loop)};
    q.answers = answers.mixed(cloth.dice);
    return finished(std::move(q), cloth, loop,
                    {fmt::format("Look about the lit stitch: {}.", cloth.place(loop)),
                     "One arm hides a little of the other.",
                     "Seen from behind the arms change, but the one in front leans the same way.",
                     fmt::format("It is the arm that goes up to the {}.", right ? "right" : "left")});
}

}  // namespace

Asked askOnTop(AskedCloth& cloth) {
    std::string_view of = cloth.wanted.of;
    if (of == "cable") return askArm(cloth);
    if (of.empty()) of = "decrease";
    const LoopId loop = cloth.choose(cloth.stitches(of));
    const Cell* here = loop ? cloth.cell(loop) : nullptr;
    if (here == nullptr) return cannotAsk(fmt::format("there is no {} there", oneOf(of)));
    const bool two = here->symbol.bases == 2;
    const Lean lean = here->symbol.lean;
    if (lean != Lean::left && lean != Lean::right && (two || lean != Lean::upright))
        return cannotAsk("it cannot be told which stitch lies on top there");
    const Reply toLeft = fixed("left", "The right one, so it leans left");
    const Reply toRight = fixed("right", "The left one, so it leans right");
    const Reply middle = fixed("upright", "The middle one, so it stands upright");
    const Reply mixedUp = lean == Lean::left ? fixed("mixed-left", "The left one, so it leans left")
                                             : fixed("mixed-right", "The right one, so it leans right");
    const char* why = "Follow the strand in front down to its column: that column lies on top.";
    Answers answers;
    answers.right(lean == Lean::left    ? toLeft
                  : lean == Lean::right ? toRight
                                        : middle,
                  "Yes. The strand in front comes down from that column.");
    answers.wrong(lean == Lean::left ? toRight : toLeft, why, two ? "wrong_lean" : "cdd_wrong_stack");
    if (!two) answers.wrong(lean == Lean::upright ? toRight : middle, why, "cdd_wrong_stack");
    answers.wrong(mixedUp, "It leans toward the side away from the column on top.",
                  "a decrease leans to the side of the stitch on top");
    const Cell* seen = cloth.cellSeen(loop);
    const bool hidden = seen != nullptr && seen->symbol.face == Face::bump;
    Question q;
    q.words = fmt::format("Which stitch of this decrease lies on top? It is lit: {}.{}", cloth.place(loop),
                          hidden ? " On this face it is hidden: turn the work over to see." : "");
    q.about = {litLoop(PageMarkKind::notice, loop)};
    q.answers = answers.mixed(cloth.dice);
    return finished(std::move(q), cloth, loop,
                    {fmt::format("Look at the lit stitch: {}.", cloth.place(loop)),
                     "Look on the face where it is a V. One head lies in front.",
                     "The stitch that the needle entered first lies on top, and points to its own column.",
                     lean == Lean::left    ? "The right one is on top: it leans left."
                     : lean == Lean::right ? "The left one is on top: it leans right."
                                           : "The middle one is on top: it stands upright."});
}

}  // namespace loopmend
