// SPDX-License-Identifier: MIT
#include <algorithm>
#include <map>
#include <optional>

#include <fmt/format.h>

#include "fabric/itinerary.h"

namespace loopmend {

namespace {

using Words = std::vector<std::string_view>;

Words split(std::string_view text, char by) {
    Words words;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find(by), text.size());
        if (end > 0) words.push_back(text.substr(0, end));
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return words;
}

constexpr std::int32_t kMostUm = 100'000'000;  // a strand of a hundred metres: more is damage

/// Reads one word from the left.
class Scan {
  public:
    explicit Scan(std::string_view word) : rest_(word) {}

    bool done() const { return rest_.empty(); }
    char peek() const { return rest_.empty() ? '\0' : rest_.front(); }
    bool take(char c) {
        if (peek() != c) return false;
        rest_.remove_prefix(1);
        return true;
    }
    char next() {
        const char c = peek();
        if (!rest_.empty()) rest_.remove_prefix(1);
        return c;
    }
    std::optional<std::int32_t> number() {
        std::int64_t n = 0;
        std::size_t digits = 0;
        while (digits < rest_.size() && rest_[digits] >= '0' && rest_[digits] <= '9' && digits < 10) {
            n = n * 10 + (rest_[digits] - '0');
            ++digits;
        }
        if (digits == 0 || n > kMostUm) return std::nullopt;
        rest_.remove_prefix(digits);
        return static_cast<std::int32_t>(n);
    }
    std::optional<std::int32_t> signedNumber() {
        const bool minus = peek() == '-';
        if (!minus && peek() != '+') return std::nullopt;
        rest_.remove_prefix(1);
        const std::optional<std::int32_t> n = number();
        if (!n) return std::nullopt;
        return minus ? -*n : *n;
    }

  private:
    std::string_view rest_;
};

struct Damage {
    std::string message;
};

struct LoopName {
    std::int32_t yarn = 0;
    std::int32_t loop = 0;
};

std::optional<LoopName> loopName(Scan& scan, std::int32_t me) {
    const std::optional<std::int32_t> n = scan.number();
    if (!n) return std::nullopt;
    if (!scan.take('.')) return LoopName{me, *n};
    const std::optional<std::int32_t> loop = scan.number();
    if (!loop) return std::nullopt;
    return LoopName{*n, *loop};
}

}  // namespace

/// Puts entries, links and marks where a text says, past the rules of hands: a text is a finished fabric.
class FabricBuilder {
  public:
    tl::expected<Fabric, TextFault> build(const Itinerary& lines) {
        try {
            read(lines);
        } catch (const Damage& damage) {
            return tl::make_unexpected(TextFault{damage.message});
        }
        return std::move(f_);
    }

  private:
    struct YarnText {
        YarnId id;
        bool reversed = false;
        std::vector<EntryId> entries;
        std::vector<LoopId> loops;
    };
    struct LinkText {
        LoopId loop;
        std::string_view word;
        std::int32_t me;
    };
    struct PassText {
        PassId pass;
        std::string_view word;
        std::int32_t me;
    };
    struct Ordered {
        PassId pass;
        std::int32_t height;  ///< -1: as the text has it
    };

    [[noreturn]] void fail(const std::string& message) const { throw Damage{message}; }
    template <class T>
    T want(const std::optional<T>& value, std::string_view word) const {
        if (!value) fail(fmt::format("the word \"{}\" cannot be read", word.substr(0, 40)));
        return *value;
    }

    LoopId loop(LoopName name, std::string_view word) const {
        if (name.yarn < 1 || name.yarn > static_cast<std::int32_t>(yarns_.size()) || name.loop < 1 ||
            name.loop >
                static_cast<std::int32_t>(yarns_[static_cast<std::size_t>(name.yarn - 1)].loops.size())) {
            fail(fmt::format("\"{}\" names a loop that is not there", word.substr(0, 40)));
        }
        return yarns_[static_cast<std::size_t>(name.yarn - 1)].loops[static_cast<std::size_t>(name.loop - 1)];
    }

    void read(const Itinerary& lines) {
        std::vector<std::string_view> knot = sections(lines.knot);
        std::vector<std::string_view> measure = sections(lines.measure);
        std::size_t yarns = 0;
        while (yarns < knot.size() && knot[yarns].substr(0, 5) == "yarn ")
            readYarn(split(knot[yarns++], ' '));
        for (const LinkText& l : linkTexts_) readLinks(l);
        for (const auto& [host, kids] : kids_) addKids(kids);
        if (yarns > measure.size()) fail("the second line has fewer yarns than the first");
        for (std::size_t i = 0; i < yarns; ++i) {
            measureYarn(split(measure[i], ' '), static_cast<std::int32_t>(i) + 1);
        }
        std::size_t measured = yarns;
        while (measured < measure.size() && measure[measured].substr(0, 5) == "yarn ") {
            readMarksOnly(split(measure[measured++], ' '));
        }
        for (const PassText& p : passTexts_) readPass(p);
        listPasses();
        refuseRings();
        std::vector<Words> tools;
        for (std::size_t i = yarns; i < knot.size(); ++i) {
            const Words words = split(knot[i], ' ');
            if (words.empty()) continue;
            if (words[0] == "cross") {
                readCross(words);
            } else if (words[0] == "join") {
                readJoin(words);
            } else if (words[0] != "loose") {  // which loops are loose follows from the rest
                tools.push_back(words);
            }
        }
        // A tool that only keeps hanging places is no part of the knot: the second line alone names it.
        std::size_t next = 0;
        for (std::size_t i = measured; i < measure.size(); ++i) {
            const Words words = split(measure[i], ' ');
            if (words.empty()) continue;
            const bool seats = std::find(words.begin(), words.end(), "w") != words.end() ||
                               std::find(words.begin(), words.end(), "e") != words.end();
            if (seats && next >= tools.size()) fail("the second line has more tools than the first");
            readTool(seats ? tools[next++] : Words{words[0]}, words);
        }
        if (next != tools.size()) fail("the second line has fewer tools than the first");
        boundOpened();
        for (YarnText& y : yarns_) {
            if (y.reversed || (f_[y.id].flags.ball == 0 && runsDownward(y))) f_.reverse(y.id);
        }
    }

    /// Without a ball either end may come first in the text. It was worked from the one whose loops the
    /// others stand on.
    bool runsDownward(const YarnText& y) const {
        std::vector<std::int32_t> place(static_cast<std::size_t>(f_.entryCount()), -1);
        std::int32_t n = 0;
        for (const LoopId l : y.loops) place[static_cast<std::size_t>(l.value)] = n++;
        std::int32_t up = 0;
        std::int32_t down = 0;
        for (const LoopId l : y.loops) {
            for (LinkId link = f_[l].firstLink; link; link = f_[link].nextInLoop) {
                const std::int32_t host = place[static_cast<std::size_t>(f_[link].host.value)];
                if (host >= 0) (host < place[static_cast<std::size_t>(l.value)] ? up : down) += 1;
            }
        }
        return down > up;
    }

    std::vector<std::string_view> sections(std::string_view text) const {
        std::vector<std::string_view> parts;
        while (!text.empty()) {
            const std::size_t end = std::min(text.find(" | "), text.size());
            parts.push_back(text.substr(0, end));
            text.remove_prefix(std::min(end + 3, text.size()));
        }
        return parts;
    }

    /// A yarn of which nothing but marks is left: the second line alone tells of it.
    void readMarksOnly(Words words) {
        if (words.size() < 5) fail("the second line measures a yarn that the first line lacks");
        readYarn({words.begin(), words.begin() + 3});
        words.erase(words.begin() + 1, words.begin() + 3);
        measureYarn(words, static_cast<std::int32_t>(yarns_.size()));
    }

    void readYarn(const Words& words) {
        if (words.size() < 3 || words[1].size() != 1) fail("a yarn needs a colour letter and its ends");
        YarnText y;
        y.id = f_.addYarn(words[1][0], 0, 0);
        if (words[2] == "ball-") {
            y.reversed = true;
        } else if (words[2] == "ends") {
            f_.setBall(y.id, false);
        } else if (words[2] != "ball") {
            fail(fmt::format("\"{}\" is no end of a yarn", words[2].substr(0, 40)));
        }
        const auto me = static_cast<std::int32_t>(yarns_.size()) + 1;
        Run run = Run::leftward;
        for (std::size_t i = 3; i < words.size(); ++i) {
            if (words[i] == "<" || words[i] == ">") {
                run = words[i] == "<" ? Run::leftward : Run::rightward;
                continue;
            }
            const bool pass = words[i][0] == '~';
            const EntryId e = f_.newEntry(pass, run);
            f_.insertAfter(e, y.id, f_[y.id].last);
            y.entries.push_back(e);
            if (pass) {
                passTexts_.push_back({e, words[i], me});
            } else {
                y.loops.push_back(e);
                linkTexts_.push_back({e, words[i], me});
            }
        }
        yarns_.push_back(std::move(y));
    }

    void readLinks(const LinkText& text) {
        std::string_view word = text.word;
        if (word.back() == '!') {
            f_.setAnchored(text.loop, true);
            word.remove_suffix(1);
        }
        if (word == "o") return;
        for (const std::string_view part : split(word, '&')) {
            Scan scan(part);
            const LoopId host = loop(want(loopName(scan, text.me), part), part);
            LinkForm form;
            const char side = scan.next();
            if (side != 'k' && side != 'p')
                fail(fmt::format("\"{}\" says neither k nor p", part.substr(0, 40)));
            form.side = side == 'k' ? Side::right : Side::wrong;
            if (scan.peek() == '+' || scan.peek() == '-') {
                const std::int32_t twist = want(scan.signedNumber(), part);
                if (twist < -100 || twist > 100) fail("a loop twisted more than a hundred times");
                form.twist = static_cast<std::int8_t>(twist);
            }
            if (scan.take('b')) form.part = Part::bothLegs;
            if (scan.take('r')) form.part = Part::rightLeg;
            if (scan.take('l')) form.part = Part::leftLeg;
            if (scan.take('h')) form.plies = Plies::pierced;
            if (scan.take('s')) form.plies = Plies::some;
            std::int32_t slot = 0;
            if (scan.take('@')) slot = want(scan.number(), part);
            if (scan.take('^')) {
                const std::int32_t place = want(scan.number(), part);
                if (place > 100) fail("a loop through more than a hundred others");
                form.place = static_cast<std::int8_t>(place);
            }
            if (!scan.done()) fail(fmt::format("\"{}\" goes on where it should end", part.substr(0, 40)));
            if (host == text.loop)
                fail(fmt::format("\"{}\" draws a loop through itself", part.substr(0, 40)));
            const LinkId link = f_.newLink(text.loop, host, form);
            f_.addToLoop(link, -1);
            kids_[host.value].emplace_back(slot, link);
        }
    }

    void addKids(std::vector<std::pair<std::int32_t, LinkId>> kids) {
        std::stable_sort(kids.begin(), kids.end(),
                         [](const auto& x, const auto& y) { return x.first < y.first; });
        for (const auto& [slot, link] : kids) f_.addToHost(link, -1);
    }

    void measureYarn(const Words& words, std::int32_t me) {
        const YarnText& y = yarns_[static_cast<std::size_t>(me - 1)];
        if (words.size() < 3 || words[0] != "yarn") fail("the second line should measure a yarn here");
        const std::int32_t lead = length(words[1]);
        const auto [loopUm, strandUm] = lengths(words[2]);
        Yarn& yarn = f_.yarns_.at(Fabric::index(y.id));
        yarn.loopUm = loopUm;
        yarn.strandUm = strandUm;
        yarn.leadUm = lead;
        std::size_t next = 0;
        EntryId last;
        for (std::size_t i = 3; i < words.size(); ++i) {
            const std::string_view word = words[i];
            if (word == ";") {
                if (!last) fail("a row ends before it begins");
                f_.setRowEnds(last, true);
                continue;
            }
            if (word[0] == '~') {
                last = readMark(word, y, last, me);
                continue;
            }
            if (next >= y.entries.size()) fail("the second line measures more loops than there are");
            last = y.entries[next++];
            if (!f_.isLoop(last)) {
                if (word != ".")
                    fail(fmt::format("\"{}\" measures a strand that has no length", word.substr(0, 40)));
                continue;
            }
            const auto [um, strand] = word == "=" ? std::make_pair(loopUm, strandUm) : lengths(word);
            Entry& entry = f_.entries_.at(Fabric::index(last));
            entry.um = um;
            entry.strandUm = strand;
        }
        if (next != y.entries.size()) fail("the second line measures fewer loops than there are");
    }

    /// Loops that are no entries of the normal form give their yarn to the strand they lie in: together no
    /// longer than a strand can be told to be.
    void boundOpened() const {
        for (const YarnText& y : yarns_) {
            std::int64_t strand = f_[y.id].leadUm;
            for (const EntryId e : y.entries) {
                if (!f_.isLoop(e)) continue;
                const std::int64_t its = f_[e].strandUm;
                strand = f_.isNothing(e) ? strand + f_[e].um + its : its;
                if (strand > kMostUm) fail("loops without stitches hold more yarn than there can be");
            }
        }
    }

    std::int32_t length(std::string_view word) const {
        Scan scan(word);
        const std::int32_t um = want(scan.number(), word);
        if (!scan.done()) fail(fmt::format("\"{}\" is no length", word.substr(0, 40)));
        return um;
    }
    std::pair<std::int32_t, std::int32_t> lengths(std::string_view word) const {
        Scan scan(word);
        const std::int32_t loopUm = want(scan.number(), word);
        if (!scan.take('/')) fail(fmt::format("\"{}\" is no pair of lengths", word.substr(0, 40)));
        const std::int32_t strandUm = want(scan.number(), word);
        if (!scan.done()) fail(fmt::format("\"{}\" is no pair of lengths", word.substr(0, 40)));
        return {loopUm, strandUm};
    }

    EntryId readMark(std::string_view word, const YarnText& y, EntryId after, std::int32_t me) {
        Scan scan(word.substr(1));
        const LoopId named = loop(want(loopName(scan, me), word), word);
        const char run = scan.next();
        const char side = scan.next();
        if ((run != '<' && run != '>') || (side != 'r' && side != 'w')) {
            fail(fmt::format("\"{}\" is no mark", word.substr(0, 40)));
        }
        const std::int32_t height = scan.take('@') ? want(scan.number(), word) : -1;
        if (!scan.done()) fail(fmt::format("\"{}\" is no mark", word.substr(0, 40)));
        const PassId mark = f_.newEntry(true, run == '<' ? Run::leftward : Run::rightward);
        f_.setPassSide(mark, side == 'r' ? Side::right : Side::wrong);
        f_.insertAfter(mark, y.id, after);
        passes_[named.value].push_back({mark, height});
        return mark;
    }

    void readPass(const PassText& text) {
        Scan scan(text.word.substr(1));
        const LoopId named = loop(want(loopName(scan, text.me), text.word), text.word);
        const char side = scan.next();
        if (side != 'r' && side != 'w') fail(fmt::format("\"{}\" names no side", text.word.substr(0, 40)));
        const std::int32_t height = scan.take('@') ? want(scan.number(), text.word) : -1;
        if (!scan.done()) fail(fmt::format("\"{}\" is no strand", text.word.substr(0, 40)));
        f_.setPassSide(text.pass, side == 'r' ? Side::right : Side::wrong);
        passes_[named.value].push_back({text.pass, height});
    }

    void listPasses() {
        std::vector<std::int32_t> rank(static_cast<std::size_t>(f_.entryCount()), 0);
        std::int32_t n = 0;
        for (const YarnText& y : yarns_) {
            for (EntryId e = f_[y.id].first; e; e = f_[e].next) rank[static_cast<std::size_t>(e.value)] = ++n;
        }
        for (auto& [named, passes] : passes_) {
            std::stable_sort(passes.begin(), passes.end(), [&](const Ordered& x, const Ordered& z) {
                if (x.height >= 0 && z.height >= 0 && x.height != z.height) return x.height < z.height;
                return rank[static_cast<std::size_t>(x.pass.value)] <
                       rank[static_cast<std::size_t>(z.pass.value)];
            });
            const StrandsId list = f_.strandsOf(LoopId{named});
            for (const Ordered& p : passes) f_.listPass(p.pass, list, PassId{});
        }
    }

    /// No loop may stand on itself by any way round.
    void refuseRings() const {
        std::vector<std::int32_t> waiting(static_cast<std::size_t>(f_.entryCount()), 0);
        std::vector<LoopId> ready;
        std::int32_t loops = 0;
        for (const YarnText& y : yarns_) {
            for (const LoopId l : y.loops) {
                ++loops;
                waiting[static_cast<std::size_t>(l.value)] = f_.linkCount(l);
                if (!f_[l].firstLink) ready.push_back(l);
            }
        }
        while (!ready.empty()) {
            const LoopId l = ready.back();
            ready.pop_back();
            --loops;
            for (LinkId k = f_[l].firstKid; k; k = f_[k].nextInHost) {
                const LoopId kid = f_[k].loop;
                if (--waiting[static_cast<std::size_t>(kid.value)] == 0) ready.push_back(kid);
            }
        }
        if (loops != 0) fail("loops stand on one another in a ring, which no yarn can do");
    }

    void readCross(const Words& words) {
        if (words.size() != 4) fail("a crossing needs two loops and a sign");
        Scan right(words[1]);
        Scan left(words[2]);
        const LoopId a = loop(want(loopName(right, 1), words[1]), words[1]);
        const LoopId b = loop(want(loopName(left, 1), words[2]), words[2]);
        if (words[3] != "+1" && words[3] != "-1") fail("a crossing is +1 or -1");
        if (!f_.cross(a, b, words[3] == "+1" ? b : a)) fail("these crossings cannot all lie in one row");
    }

    void readJoin(const Words& words) {
        if (words.size() != 3) fail("a join needs a loop and a twist");
        Scan name(words[1]);
        Scan twist(words[2]);
        f_.addJoin(loop(want(loopName(name, 1), words[1]), words[1]), want(twist.signedNumber(), words[2]));
    }

    void readTool(const Words& words, const Words& measure) {
        static const std::pair<std::string_view, ToolKind> kNames[] = {
            {"needle", ToolKind::needle}, {"spare", ToolKind::spareNeedle}, {"holder", ToolKind::holder},
            {"pin", ToolKind::pin},       {"hook", ToolKind::hook},         {"lifeline", ToolKind::lifeline}};
        const auto* kind = std::find_if(std::begin(kNames), std::end(kNames),
                                        [&](const auto& entry) { return entry.first == words[0]; });
        if (kind == std::end(kNames)) fail(fmt::format("\"{}\" is no tool", words[0].substr(0, 40)));
        if (measure.empty() || measure[0] != words[0]) fail("the tools of the two lines are not the same");
        const bool isNeedle = kind->second == ToolKind::needle;
        if (isNeedle && sawNeedle_) fail("there are two needles");
        sawNeedle_ = sawNeedle_ || isNeedle;
        const ToolId tool = isNeedle ? f_.needle() : f_.addTool(kind->second);
        std::size_t held = 1;
        std::size_t at = 1;
        std::int32_t right = -1;
        if (isNeedle) {
            if (measure.size() < 2) fail("the needle's tip is missing");
            right = length(measure[1]);
            at = 2;
        }
        std::int32_t place = 0;
        for (; at < measure.size(); ++at, ++place) {
            HeldId now;
            if (measure[at][0] == '~') {
                Scan scan(measure[at].substr(1));
                const LoopId hung = loop(want(loopName(scan, 1), measure[at]), measure[at]);
                if (f_.heldOn(hung, tool)) fail("a loop hangs twice on one tool");
                now = f_.hang(hung, tool, HeldId{});
            } else {
                if (held >= words.size()) fail("the second line seats more loops than a tool holds");
                Scan scan(words[held]);
                const LoopId on = loop(want(loopName(scan, 1), words[held]), words[held]);
                std::int32_t turns = 0;
                if (!scan.done()) turns = want(scan.signedNumber(), words[held]);
                if (!scan.done() || turns < -100 || turns > 100) fail("a held loop cannot be read");
                ++held;
                if (measure[at] != "w" && measure[at] != "e") fail("a mount is w or e");
                const Result<HeldId> seated =
                    f_.hold(on, tool, HeldId{}, measure[at] == "w" ? Mount::western : Mount::eastern,
                            static_cast<std::int8_t>(turns));
                if (!seated) fail("a loop is held twice by one tool");
                now = *seated;
            }
            if (place == right) f_.setTip(now);
        }
        if (held != words.size()) fail("the second line seats fewer loops than a tool holds");
        if (right > place) fail("the needle's tip lies beyond its loops");
    }

    Fabric f_;
    std::vector<YarnText> yarns_;
    std::vector<LinkText> linkTexts_;
    std::vector<PassText> passTexts_;
    std::map<std::int32_t, std::vector<std::pair<std::int32_t, LinkId>>> kids_;
    std::map<std::int32_t, std::vector<Ordered>> passes_;
    bool sawNeedle_ = false;
};

tl::expected<Fabric, TextFault> fabricFrom(const Itinerary& lines) {
    return FabricBuilder().build(lines);
}

}  // namespace loopmend
