// SPDX-License-Identifier: MIT
#include "diagnosis/account.h"

#include <algorithm>
#include <cctype>

#include <fmt/format.h>

#include "diagnosis/words.h"
#include "fault/catalogue.h"
#include "fault/confusions.h"
#include "fault/facts.h"
#include "pattern/plain_words.h"

namespace loopmend {

namespace {

/// `a V instead of a bump; missing: a hole` -> `a V where a bump should be; a hole is missing`.
std::string asSeen(std::string_view looks) {
    std::string words;
    while (!looks.empty()) {
        const std::size_t end = std::min(looks.find("; "), looks.size());
        const std::string_view one = looks.substr(0, end);
        looks.remove_prefix(std::min(end + 2, looks.size()));
        constexpr std::string_view kInstead = " instead of ";
        constexpr std::string_view kMissing = "missing: ";
        constexpr std::string_view kTooMany = "one too many: ";
        std::string said(one);
        if (const std::size_t instead = one.find(kInstead); instead != std::string_view::npos) {
            said = fmt::format("{} where there should be {}", one.substr(0, instead),
                               one.substr(instead + kInstead.size()));
        } else if (one.substr(0, kMissing.size()) == kMissing) {
            said = fmt::format("not there: {}", one.substr(kMissing.size()));
        } else if (one.substr(0, kTooMany.size()) == kTooMany) {
            said = fmt::format("one too many: {}", one.substr(kTooMany.size()));
        }
        words += (words.empty() ? "" : "; ") + said;
    }
    return words;
}

std::string lowered(std::string words) {
    // A V is a sign, not a word.
    if (words.size() > 1 && words[1] != ' ')
        words[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(words[0])));
    else if (words.substr(0, 2) == "A ")
        words[0] = 'a';
    return words;
}

std::string_view wayOf(LookWay way) {
    switch (way) {
        case LookWay::armsLength: return "Holding it at arm's length";
        case LookWay::countSpan: return "Counting the stitches";
        case LookWay::rowFits: return "The next row";
        case LookWay::closeLook: return "A close look";
        case LookWay::follow: return "Following the line down";
        case LookWay::compareRepeat: return "Holding it against the pattern";
        case LookWay::oddRepeat: return "The repeat beside it";
        case LookWay::searchPatch: return "Looking the patch over";
        case LookWay::stretchPatch: return "Stretching it sideways";
        case LookWay::slantLight: return "Light from the side";
        case LookWay::tug: return "A gentle tug";
        case LookWay::turnOver: return "Turning it over";
        case LookWay::bothEnds: return "Counting the rows at both edges";
    }
    return "A close look";
}

std::vector<std::string> signsOf(const Fault& fault, const FaultFacts& facts, Terms terms) {
    std::vector<std::string> signs;
    if (std::string sign = signWords(fault.id, terms); !sign.empty()) signs.push_back(std::move(sign));
    const std::string rs = asSeen(facts.looksRs);
    const std::string ws = asSeen(facts.looksWs);
    const bool countTells = facts.countAtRow != 0 || facts.countLater != 0;
    if (countTells) signs.push_back(fmt::format("Count the stitches: {}.", facts.countEffect));
    if (signs.size() < 2 && !rs.empty() && !ws.empty() && rs != ws) {
        signs.push_back(fmt::format("Look from both sides. Right side: {}. Wrong side: {}.", rs, ws));
    } else if (signs.size() < 2 && !rs.empty()) {
        signs.push_back(fmt::format("Look closely at the right side: {}.", rs));
    }
    if (signs.size() < 2 && !facts.noticedBy.empty())
        signs.push_back(fmt::format("On a small piece it was noticed so: {}.", facts.noticedBy));
    for (std::string& sign : signs) sign = spelled(std::move(sign), terms);
    return signs;
}

}  // namespace

Account accountOf(std::string_view faultId, const std::vector<std::string>& open, Terms terms) {
    Account account;
    const Fault* const fault = findFault(faultId);
    const auto example = fault == nullptr ? std::nullopt : exampleOf(*fault);
    if (!example) return account;
    account.signs = signsOf(*fault, factsOf(*example, terms), terms);
    const std::vector<Likeness> alike = likenesses(*example);
    const std::string mine = signWords(faultId, terms);
    for (const std::string& id : easilyTakenFor(alike)) {
        const auto it =
            std::find_if(alike.begin(), alike.end(), [&](const Likeness& l) { return l.id == id; });
        const std::string sign = signWords(id, terms);
        // What the same sign would show is not ruled out.
        if (it == alike.end() || sign.empty() || sign == mine) continue;
        if (std::find(open.begin(), open.end(), id) != open.end()) continue;
        account.notId = id;
        account.notWords = fmt::format("It is not this: {}. The sign of that: {}",
                                       name(*findFault(id), terms), lowered(sign));
        if (!it->apart.empty())
            account.notWords += fmt::format(" {} tells the two apart.", wayOf(it->apart.front()));
        account.notWords = spelled(std::move(account.notWords), terms);
        break;
    }
    return account;
}

}  // namespace loopmend
