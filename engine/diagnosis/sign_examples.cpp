// SPDX-License-Identifier: MIT
#include "diagnosis/sign_examples.h"

#include <algorithm>
#include <cstddef>
#include <utility>
#include <vector>

#include "diagnosis/close_by.h"
#include "diagnosis/priors.h"
#include "fault/catalogue.h"
#include "fault/knit_with.h"
#include "pattern/counts.h"
#include "pattern/parse.h"

namespace loopmend {

namespace {

constexpr int kFewStitches = 10;
constexpr int kMostStitches = 30;
constexpr int kRows = 9;

/// Her pattern on few stitches; 0: it does not come out on so few.
int fewStitches(const CaseStart& start) {
    if (start.pattern.empty()) return kFewStitches;
    const Pattern pattern = parse(start.pattern);
    if (!pattern.problems.empty()) return 0;
    if (const auto multiple = countAll(pattern).multiple) {
        std::int64_t n = std::max(multiple->plus, multiple->least);
        while (multiple->of > 0 && n < kFewStitches) n += multiple->of;
        if (n <= kMostStitches) return static_cast<int>(n);
    }
    const int own = start.stitches > 0 ? start.stitches : pattern.castOn.value_or(0);
    return own <= kMostStitches ? own : 0;
}

CaseStart smallOf(const CaseStart& start) {
    CaseStart small = start;
    small.stitches = fewStitches(start);
    small.rowsDone = kRows;
    if (small.stitches > 0) return small;
    small.pattern.clear();
    small.ground = CaseGround::plain;
    small.stitches = kFewStitches;
    return small;
}

/// Commonest first.
std::vector<const Fault*> byPrior() {
    std::vector<const Fault*> faults = catalogue();
    std::stable_sort(faults.begin(), faults.end(),
                     [](const Fault* a, const Fault* b) { return priorOf(a->id) > priorOf(b->id); });
    return faults;
}

}  // namespace

SignExamples::SignExamples(const CaseStart& start) : setup_(start.setup) {
    CaseStart small = smallOf(start);
    auto meant = meantBy(small);
    for (int rows = kRows; !meant && rows > 1; --rows) {  // a pattern of few rows
        small.rowsDone = rows - 1;
        meant = meantBy(small);
    }
    if (!meant) return;
    script_ = std::move(meant->script);
    rows_ = meant->rowsDone;
    script_.rows.resize(std::min(script_.rows.size(), static_cast<std::size_t>(rows_)));
}

const SignExamples::Example* SignExamples::of(OddSign sign, Side side) {
    std::optional<Found>& found = bySide_[side == Side::right ? 0 : 1];
    if (!found) {
        found.emplace();
        lookFor(*found, side);
    }
    const std::optional<Example>& example = (*found)[static_cast<std::size_t>(sign)];
    return example ? &*example : nullptr;
}

const SignExamples::Example* SignExamples::of(CasePicture picture) {
    const auto first = [&](std::initializer_list<OddSign> signs) -> const Example* {
        for (const OddSign sign : signs)
            if (const Example* example = of(sign, Side::right)) return example;
        return nullptr;
    };
    switch (picture) {
        case CasePicture::looseLoop: return first({OddSign::ladder, OddSign::freeLoop});
        case CasePicture::hole: return first({OddSign::hole});
        case CasePicture::bump: return first({OddSign::bump, OddSign::v});
        case CasePicture::oddStitch: return first({OddSign::crossedFeet, OddSign::tall, OddSign::leansRight});
        case CasePicture::nothing: return first({OddSign::none});
        case CasePicture::something: break;
    }
    return nullptr;
}

void SignExamples::lookFor(Found& found, Side side) const {
    if (rows_ == 0) return;
    // Not too near an edge, and with some rows over it where there are any.
    const int middle = script_.castOn / 2;
    std::vector<std::pair<int, int>> places;
    for (const int row : {rows_ / 2 + 1, rows_ / 2, rows_ / 2 + 2, rows_ - 1})
        for (const int stitch : {middle, middle + 1, middle - 1, middle + 2, middle - 2})
            if (row >= 1 && row <= rows_ && stitch >= 1) places.emplace_back(row, stitch);
    if (auto plain = knitWith(script_, setup_, {}, After::byReading))
        found[static_cast<std::size_t>(OddSign::none)] =
            Example{std::shared_ptr<const Fabric>(std::move(plain->actual.fabric)),
                    OddSign::none,
                    rows_ / 2 + 1,
                    middle,
                    {}};
    std::array<int, kOddSigns> distance{};
    for (const Fault* fault : byPrior()) {
        int tried = 0;
        for (const auto& [row, stitch] : places) {
            const FaultPlace there{std::string(fault->id), row, fault->wholeRow ? 1 : stitch, 0};
            if (!place(script_, there)) continue;
            auto knitting = knitWith(script_, setup_, {there}, After::byReading);
            if (!knitting) continue;
            const LookedAt looked(*knitting->actual.fabric, *knitting->meant.fabric, &script_);
            std::shared_ptr<const Fabric> fabric(std::move(knitting->actual.fabric));
            const bool fromRight =
                script_.round || script_.rows[static_cast<std::size_t>(row - 1)].facing == Facing::right;
            const int column = fromRight ? stitch : looked.width(row) + 1 - stitch;
            for (const CloseBy& it : closeBy(looked, row, column, side)) {
                const auto sign = static_cast<std::size_t>(it.sign);
                if (found[sign] && distance[sign] <= it.away) continue;
                distance[sign] = it.away;
                found[sign] = Example{fabric, it.sign, it.row, it.column, std::string(fault->id)};
            }
            if (++tried == 2) break;
        }
    }
}

}  // namespace loopmend
