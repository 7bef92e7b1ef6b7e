// SPDX-License-Identifier: MIT
#include "fault/facts.h"

#include <algorithm>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "fabric/pairing.h"
#include "fault/catalogue.h"
#include "fault/draw.h"
#include "reading/notice.h"
#include "reading/read.h"

namespace loopmend {

namespace {

constexpr int kStitches = 15;
constexpr int kRows = 8;
constexpr std::size_t kMostSaid = 2;

std::string manyWords(int n) {
    constexpr std::string_view kNumbers[] = {"no", "one", "two", "three"};
    const int many = n < 0 ? -n : n;
    const std::string number =
        many < 4 ? std::string(kNumbers[static_cast<std::size_t>(many)]) : fmt::format("{}", many);
    return fmt::format("{} too {}", number, n < 0 ? "few" : "many");
}

std::string countWords(int atRow, int later) {
    if (atRow == 0 && later == 0) return "the count stays right";
    if (atRow == later) return fmt::format("{} from its row on", manyWords(atRow));
    if (later == 0) return fmt::format("{} at first, right again later", manyWords(atRow));
    if (atRow == 0) return fmt::format("right at first, {} later", manyWords(later));
    return fmt::format("{} at first, {} later", manyWords(atRow), manyWords(later));
}

/// What differs, from the lowest row up: what is seen and what should be.
class Looker {
  public:
    Looker(const Fabric& meant, const Fabric& actual, Terms terms)
        : meant_(meant), actual_(actual), terms_(terms), pairing_(pairUp(meant, actual)) {}

    std::string from(Side side) const {
        const Reading should = readFrom(meant_, side);
        const Reading is = readFrom(actual_, side);
        struct Said {
            int row;
            std::string words;
        };
        std::vector<Said> said;
        std::vector<Said> tooMany;
        const auto say = [&](int row, std::string words) {
            const auto same = [&](const Said& s) { return s.words == words; };
            if (std::none_of(said.begin(), said.end(), same)) said.push_back({row, std::move(words)});
        };
        for (const ReadRow& row : is.rows) {
            for (const Cell& cell : row.cells) {
                if (cell.symbol.sight == Sight::rung) continue;
                if (const Cell* meant = counterpart(should, cell)) {
                    const bool free = cell.symbol.loose && !meant->symbol.loose;
                    if (!free && looksAlike(cell.symbol, meant->symbol)) continue;
                    std::string now = seenAs(cell.symbol, meant->symbol);
                    if (free && cell.symbol.longRungs > 0) now += " (a ladder)";
                    const std::string then = words(meant->symbol, terms_);
                    if (now != then) say(row.row, fmt::format("{} instead of {}", now, then));
                } else if (cell.symbol.sight == Sight::slipped) {
                    say(row.row, words(cell.symbol, terms_));
                } else if (!hasPair(cell)) {
                    tooMany.push_back({row.row, words(cell.symbol, terms_)});
                }
            }
        }
        for (const ReadRow& row : should.rows) {
            for (const Cell& cell : row.cells) {
                if (cell.symbol.sight == Sight::rung || pairing_.actual(cell.loop)) continue;
                const std::string then = words(cell.symbol, terms_);
                // What was only moved is neither missing nor too many.
                const auto moved = std::find_if(tooMany.begin(), tooMany.end(),
                                                [&](const Said& s) { return s.words == then; });
                if (moved != tooMany.end()) {
                    tooMany.erase(moved);
                } else {
                    say(row.row, fmt::format("missing: {}", then));
                }
            }
        }
        for (const Said& more : tooMany) say(more.row, fmt::format("one too many: {}", more.words));
        if (said.empty()) {
            // The same stitches, in other places of their rows.
            for (std::size_t r = 0; r < std::min(is.rows.size(), should.rows.size()); ++r) {
                const std::vector<Cell>& now = is.rows[r].cells;
                const std::vector<Cell>& then = should.rows[r].cells;
                for (std::size_t i = 0; i < std::min(now.size(), then.size()); ++i) {
                    if (looksAlike(now[i].symbol, then[i].symbol)) continue;
                    const std::string seen = seenAs(now[i].symbol, then[i].symbol);
                    const std::string due = words(then[i].symbol, terms_);
                    if (seen != due) say(is.rows[r].row, fmt::format("{} instead of {}", seen, due));
                }
            }
        }
        if (said.empty()) {
            // Every stitch looks as it should: what catches the eye all the same.
            Attention attention;
            attention.looksAt = side == Side::right ? SeenFrom::right : SeenFrom::wrong;
            for (const Notice& notice : noticeable(meant_, actual_, terms_, attention))
                if (notice.cue == Cue::other) say(notice.seenRow, notice.words);
        }
        std::stable_sort(said.begin(), said.end(),
                         [](const Said& a, const Said& b) { return a.row < b.row; });
        std::string text;
        for (std::size_t i = 0; i < std::min(said.size(), kMostSaid); ++i)
            text += (i > 0 ? "; " : "") + said[i].words;
        return text.empty() ? "no difference to be seen" : text;
    }

  private:
    /// In words, and how it differs where the words of both are the same.
    std::string seenAs(const Symbol& now, const Symbol& then) const {
        std::string seen = words(now, terms_);
        if (seen != words(then, terms_)) return seen;
        if (now.colour != then.colour)
            seen += terms_ == Terms::uk ? " in another colour" : " in another color";
        else if (now.face != then.face)
            seen += now.face == Face::bump ? ", a ridge before it" : ", no ridge before it";
        return seen;
    }

    bool hasPair(const Cell& cell) const { return static_cast<bool>(pairing_.meant(cell.loop)); }

    /// The cell of the meant loop in the same row (a slipped loop has several).
    const Cell* counterpart(const Reading& should, const Cell& cell) const {
        const LoopId loop = pairing_.meant(cell.loop);
        if (!loop || cell.row >= static_cast<int>(should.rows.size())) return nullptr;
        for (const Cell& other : should.rows[static_cast<std::size_t>(cell.row)].cells) {
            if (other.loop == loop) return &other;
        }
        return nullptr;
    }

    const Fabric& meant_;
    const Fabric& actual_;
    Terms terms_;
    Pairing pairing_;
};

}  // namespace

std::optional<FaultExample> exampleOf(const Fault& fault) {
    for (const Wanted& wanted :
         {Wanted{3, 0, 4, false}, Wanted{3, 0, 1, false}, Wanted{3, 0, 0, false}, Wanted{}}) {
        for (int g = 0; g < 2 * kAllStockGrounds; ++g) {
            // Flat if it can be.
            const bool round = g >= kAllStockGrounds;
            const auto ground = static_cast<StockGround>(round ? g - kAllStockGrounds : g);
            const Script script = stockGround(ground, kStitches, kRows, round);
            const std::vector<FaultPlace> places = placesFor(fault, script, {}, wanted);
            if (places.empty()) continue;
            // What goes on row after row is shown from low down.
            const bool goesOn = fault.everyRow || (fault.misread() && !fault.wholeRow);
            const FaultPlace& place = places[goesOn ? 0 : places.size() / 3];
            auto reading = knitWith(script, {}, {place}, After::byReading);
            auto count = knitWith(script, {}, {place}, After::byCount);
            if (reading && count)
                return FaultExample{ground, script, place, std::move(*reading), std::move(*count)};
        }
    }
    return std::nullopt;
}

FaultFacts factsOf(const FaultExample& example, Terms terms) {
    FaultFacts facts;
    const FaultyKnitting& k = example.reading;
    const Fabric& meant = *k.meant.fabric;
    const Fabric& actual = *k.actual.fabric;
    const int happened = rowOf(example.script, example.place);
    // What fell when all was worked is not in the counts of the rows.
    facts.countLater = example.count.actual.knitter.aheadCount() - example.count.meant.knitter.aheadCount();
    const SideBySide::Counts& then = example.count.counts[static_cast<std::size_t>(happened) - 1];
    facts.countAtRow = happened == example.count.rows ? facts.countLater : then.actual - then.meant;
    facts.countEffect = countWords(facts.countAtRow, facts.countLater);
    const Looker looker(meant, actual, terms);
    facts.looksRs = looker.from(Side::right);
    facts.looksWs = looker.from(Side::wrong);
    facts.canRun = !readFrom(actual, Side::right).loose.empty();
    facts.noticedAfter = -1;
    if (const std::optional<Notice> notice = firstNoticeable(meant, actual, {}, terms)) {
        facts.noticedRow = notice->row;
        facts.noticedAfter = std::max(0, notice->row - happened);
        facts.cue = name(notice->cue);
        facts.noticedBy = notice->words;
    }
    return facts;
}

}  // namespace loopmend
