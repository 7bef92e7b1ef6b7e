// SPDX-License-Identifier: MIT
#include "tutor/lesson_handout_moves.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "tutor/lesson_handout_pictures.h"
#include "tutor/words.h"

namespace loopmend {

namespace {

constexpr std::size_t kFewest = 4;  ///< like moves that are gathered: at least so many

/// A move, and the turn after it.
struct Told {
    int move = 0;
    std::string words;
};

std::vector<Told> toldMoves(Demonstration& d) {
    std::vector<Told> all;
    const int from = d.at();
    do {
        const std::optional<Move> move = d.next();
        if (!move) break;
        if (move->kind == MoveKind::turn && !all.empty()) {
            all.back().words += " " + d.words();
        } else {
            all.push_back({d.at(), d.words()});
        }
    } while (d.forward());
    d.goTo(from);
    return all;
}

std::vector<EntryId> placesOf(Demonstration& d) {
    std::vector<EntryId> places = d.places();
    const int from = d.at();
    const std::int32_t known = d.fabric().entryCount();
    do {
        for (const PageMark& mark : d.marks()) {
            for (const std::vector<EntryId>* list : {&mark.loops, &mark.rungs, &mark.strands}) {
                for (const EntryId e : *list) {
                    if (e.value < known) places.push_back(e);
                }
            }
        }
    } while (d.forward());
    d.goTo(from);
    return places;
}

/// How many captions from `at` on are the same again every `period` of them.
std::size_t runOf(const std::vector<std::string>& captions, std::size_t at, std::size_t period) {
    std::size_t end = at + period;
    while (end < captions.size() && captions[end] == captions[end - period]) ++end;
    return end - at;
}

HandoutPicture pictureOf(const Demonstration& d, const HandoutView& view, std::string caption) {
    HandoutPicture picture = faceOf(view, d.fabric(), d.seen(), d.marks());
    picture.drawing.title = caption;
    picture.caption = std::move(caption);
    return picture;
}

}  // namespace

std::vector<ToldMove> gathered(const std::vector<std::string>& captions) {
    std::vector<ToldMove> told;
    for (std::size_t i = 0; i < captions.size();) {
        std::size_t period = 1;
        std::size_t run = runOf(captions, i, 1);
        if (run < kFewest) {
            const std::size_t pairs = runOf(captions, i, 2);
            if (pairs >= kFewest + 1) {
                period = 2;
                run = pairs;
            }
        }
        if (run < kFewest) {
            told.push_back({i, 0});
            ++i;
            continue;
        }
        const std::size_t begin = period == 1 ? 1 : 2;
        for (std::size_t k = 0; k < begin; ++k) told.push_back({i + k, 0});
        const std::size_t middle = i + run / 2;
        told.push_back({middle, static_cast<int>(middle - (i + begin)) + 1});
        told.push_back({i + run - 1, static_cast<int>(i + run - 1 - middle)});
        i += run;
    }
    return told;
}

HandoutStep movesInDrawings(Demonstration& d) {
    HandoutStep step;
    const std::vector<Told> moves = toldMoves(d);
    if (moves.empty()) return step;
    std::vector<std::string> captions;
    captions.reserve(moves.size());
    for (const Told& told : moves) captions.push_back(told.words);
    const HandoutView view = viewAbout(d.fabric(), placesOf(d));
    const int from = d.at();
    std::vector<PageMark> marks;
    std::string caution;
    for (const ToldMove& told : gathered(captions)) {
        const Told& move = moves[told.index];
        d.goTo(move.move);
        const auto number = static_cast<int>(told.index) + 1;
        std::string caption = fmt::format("{}. {}", number, move.words);
        if (told.again > 1)
            caption = fmt::format("{} to {}. And so on, {}.", number - told.again + 1, number,
                                  told.again == 2 ? std::string("twice") : numberWord(told.again) + " times");
        step.pictures.push_back(pictureOf(d, view, std::move(caption)));
        for (const PageMark& mark : d.marks()) marks.push_back(mark);
        if (caution.empty())
            caution = d.caution();
        else if (d.warns() && caution.find(d.caution()) == std::string::npos)
            caution += " " + d.caution();
    }
    d.goTo(d.moves());
    step.pictures.push_back(pictureOf(d, view, d.heading() + ". " + d.words()));
    if (!d.caution().empty()) caution += (caution.empty() ? "" : " ") + d.caution();
    d.goTo(from);
    constexpr int kAcross = 3;
    step.across = kAcross;
    step.sentences = {keyOf(marks)};
    if (step.sentences.front().empty()) step.sentences.clear();
    step.caution = caution;
    return step;
}

}  // namespace loopmend
