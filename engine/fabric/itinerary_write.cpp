// SPDX-License-Identifier: MIT
// Normal form: which yarn comes first, which way each is read, and the text. The walk starts at the yarn that
// was cast on and runs toward the ball; a further yarn is numbered when the walk first meets it and read so
// that the entry first met runs right to left. Where nothing settles the start, every start is written and
// the smallest text taken: only fabrics without a cast-on edge, or cut at both ends, pay for that.
#include <algorithm>
#include <array>
#include <charconv>
#include <iterator>

#include <fmt/format.h>

#include "fabric/itinerary.h"

namespace loopmend {

namespace {

using Out = std::back_insert_iterator<std::string>;

/// A number as `fmt` writes it. Texts are mostly numbers, and a piece has a hundred thousand of them.
void put(std::string& text, std::int32_t number) {
    std::array<char, 12> digits;
    const auto end = std::to_chars(digits.data(), digits.data() + digits.size(), number);
    text.append(digits.data(), end.ptr);
}
void putSigned(std::string& text, std::int32_t number) {
    if (number >= 0) text += '+';
    put(text, number);
}

std::size_t at(EntryId id) {
    return static_cast<std::size_t>(id.value);
}
std::size_t at(YarnId id) {
    return static_cast<std::size_t>(id.value);
}

/// Calls visit(entry) along a yarn in reading direction.
template <class Visit>
void along(const Fabric& f, YarnId yarn, bool reversed, Visit visit) {
    for (EntryId e = reversed ? f[yarn].last : f[yarn].first; e; e = reversed ? f[e].prev : f[e].next)
        visit(e);
}

bool goesThrough(const Fabric& f, LoopId loop, LoopId host) {
    for (LinkId l = f[loop].firstLink; l; l = f[l].nextInLoop) {
        if (f[l].host == host) return true;
    }
    return false;
}

/// A strand that goes by a loop on the side from which its own neighbour is drawn through that loop crosses
/// nothing. Drawing a loop drops it; it may also come to lie so when what lay between is gone.
bool isIdle(const Fabric& f, PassId pass) {
    for (const bool back : {true, false}) {
        const LoopId nearest = f.passed(pass);
        std::vector<LoopId> further;  // passed between it and the neighbour; seldom any
        for (EntryId e = back ? f[pass].prev : f[pass].next; e; e = back ? f[e].prev : f[e].next) {
            const LoopId loop = f.isLoop(e) ? e : f.passed(e);
            if (f.isNothing(loop) || (!f.isLoop(e) && f.isFree(e))) continue;
            if (f.run(e) != f.run(pass)) break;
            if (!f.isLoop(e)) {
                further.push_back(loop);
                continue;
            }
            for (LinkId l = f[e].firstLink; l; l = f[l].nextInLoop) {
                if (f[l].host != nearest || f[l].form.side == f.passSide(pass)) continue;
                if (std::all_of(further.begin(), further.end(),
                                [&](LoopId host) { return goesThrough(f, e, host); })) {
                    return true;
                }
            }
            break;
        }
    }
    return false;
}

bool isReal(const Fabric& f, EntryId e) {
    if (f.isLoop(e)) return !f.isNothing(e);
    return !f.isFree(e) && !f.isNothing(f.passed(e)) && !isIdle(f, e);
}

/// Calls visit(yarn, entry met there) for every yarn that touches this entry. Marks touch nothing: they are
/// no part of the knot.
template <class Visit>
void touching(const Fabric& f, EntryId e, Visit visit) {
    if (!f.isLoop(e)) {
        visit(f[f.passed(e)].yarn, f.passed(e));
        return;
    }
    for (LinkId l = f[e].firstLink; l; l = f[l].nextInLoop) visit(f[f[l].host].yarn, f[l].host);
    for (LinkId l = f[e].firstKid; l; l = f[l].nextInHost) visit(f[f[l].loop].yarn, f[l].loop);
    if (const StrandsId list = f[e].strands) {
        for (PassId p = f[list].first; p; p = f[p].passNext) {
            if (isReal(f, p)) visit(f[p].yarn, p);
        }
    }
}

struct Reading {
    YarnId yarn;
    bool reversed = false;
};

class Writer {
  public:
    explicit Writer(const Fabric& fabric) : f_(fabric) {
        numbers_.places.assign(static_cast<std::size_t>(f_.entryCount()), {});
        findPieces();
        arrange();
        number();
        appendMarksOnly();
    }

    const Numbering& numbers() const { return numbers_; }

    std::string knot() const {
        std::string text;
        Out out(text);
        for (std::size_t i = 0; i < inKnot_; ++i) {
            if (i > 0) out = fmt::format_to(out, " | ");
            writeYarn(text, order_[i]);
        }
        writeCrossings(text);
        writeJoins(out);
        for (const ToolId tool : tools_) {
            if (!holdsSomething(tool)) continue;
            out = fmt::format_to(out, " | {}", toolName(f_[tool].kind));
            for (HeldId h = f_[tool].first; h; h = f_[h].next) {
                if (f_[h].state.hanging != 0 || placeOf(f_[h].loop).yarn == 0) continue;
                text += ' ';
                putName(text, f_[h].loop, 0);
                if (f_[h].state.turns != 0) putSigned(text, f_[h].state.turns);
            }
        }
        bool first = true;
        for (const LoopId loop : numbers_.order) {
            if (!f_.isLoose(loop)) continue;
            if (first) out = fmt::format_to(out, " | loose");
            first = false;
            out = fmt::format_to(out, " {}", name(loop, 0));
        }
        return text;
    }

    std::string measure() {
        findRowEnds();
        std::string text;
        Out out(text);
        for (std::size_t i = 0; i < order_.size(); ++i) {
            if (i > 0) out = fmt::format_to(out, " | ");
            measureYarn(out, order_[i], i < inKnot_);
        }
        for (const ToolId tool : tools_) {
            out = fmt::format_to(out, " | {}", toolName(f_[tool].kind));
            if (tool == f_.needle()) {
                int right = 0;
                for (HeldId h = f_[tool].first; h && h != f_[tool].tip; h = f_[h].next) {
                    if (placeOf(f_[h].loop).yarn != 0) ++right;
                }
                out = fmt::format_to(out, " {}", right);
            }
            for (HeldId h = f_[tool].first; h; h = f_[h].next) {
                if (placeOf(f_[h].loop).yarn == 0) continue;
                if (f_[h].state.hanging != 0) {
                    out = fmt::format_to(out, " ~{}", name(f_[h].loop, 0));
                } else {
                    out = fmt::format_to(out, " {}", f_[h].state.mount == Mount::western ? 'w' : 'e');
                }
            }
        }
        return text;
    }

    static std::string_view toolName(ToolKind kind) {
        switch (kind) {
            case ToolKind::needle: return "needle";
            case ToolKind::spareNeedle: return "spare";
            case ToolKind::holder: return "holder";
            case ToolKind::pin: return "pin";
            case ToolKind::hook: return "hook";
            case ToolKind::lifeline: return "lifeline";
        }
        return "needle";
    }

  private:
    const Numbering::Place& placeOf(EntryId e) const { return numbers_.places[at(e)]; }

    /// A loop's name as seen from yarn number `from`.
    void putName(std::string& text, LoopId loop, std::int32_t from) const {
        const Numbering::Place& p = placeOf(loop);
        if (p.yarn != from && (from != 0 || p.yarn != 1)) {
            put(text, p.yarn);
            text += '.';
        }
        put(text, p.loop);
    }
    std::string name(LoopId loop, std::int32_t from) const {
        std::string text;
        putName(text, loop, from);
        return text;
    }

    bool holdsSomething(ToolId tool) const {
        for (HeldId h = f_[tool].first; h; h = f_[h].next) {
            if (f_[h].state.hanging == 0 && placeOf(f_[h].loop).yarn != 0) return true;
        }
        return false;
    }

    // ---- which yarns hang together, and their order
    // ---------------------------------------------------------

    void findPieces() {
        piece_.assign(static_cast<std::size_t>(f_.yarnCount()), -1);
        int left = 0;  // yarns of no piece yet
        for (std::int32_t y = 0; y < f_.yarnCount(); ++y) left += f_[YarnId{y}].flags.gone == 0 ? 1 : 0;
        for (std::int32_t y = 0; y < f_.yarnCount(); ++y) {
            const YarnId yarn{y};
            if (f_[yarn].flags.gone != 0 || piece_[at(yarn)] >= 0) continue;
            --left;
            EntryId first = f_[yarn].first;
            while (first && !isReal(f_, first)) first = f_[first].next;
            if (!first) continue;
            pieces_.push_back({yarn});
            piece_[at(yarn)] = static_cast<int>(pieces_.size()) - 1;
            std::vector<YarnId>& mine = pieces_.back();
            for (std::size_t i = 0; i < mine.size() && left > 0; ++i) {
                along(f_, mine[i], false, [&](EntryId e) {
                    if (!isReal(f_, e)) return;
                    touching(f_, e, [&](YarnId other, EntryId) {
                        if (piece_[at(other)] >= 0) return;
                        --left;
                        piece_[at(other)] = piece_[at(yarn)];
                        mine.push_back(other);
                    });
                });
            }
        }
    }

    /// The yarns of one piece in the order in which a walk from `start` meets them.
    std::vector<Reading> walk(Reading start) const {
        std::vector<Reading> order{start};
        const std::size_t all = pieces_[static_cast<std::size_t>(piece_[at(start.yarn)])].size();
        std::vector<bool> met(static_cast<std::size_t>(f_.yarnCount()), false);
        met[at(start.yarn)] = true;
        for (std::size_t i = 0; i < order.size() && order.size() < all; ++i) {
            const Reading r = order[i];
            along(f_, r.yarn, r.reversed, [&](EntryId e) {
                if (!isReal(f_, e)) return;
                touching(f_, e, [&](YarnId other, EntryId entry) {
                    if (met[at(other)]) return;
                    met[at(other)] = true;
                    order.push_back({other, f_.run(entry) == Run::rightward});
                });
            });
        }
        return order;
    }

    std::vector<Reading> starts(const std::vector<YarnId>& yarns) const {
        std::vector<YarnId> from;
        for (const YarnId y : yarns) {
            if (yarns.size() == 1) break;  // there is no choice
            bool anchored = false;
            along(f_, y, false, [&](EntryId e) { anchored = anchored || f_[e].flags.anchored != 0; });
            if (anchored) from.push_back(y);
        }
        if (from.empty()) from = yarns;
        std::vector<Reading> readings;
        for (const YarnId y : from) {
            readings.push_back({y, false});
            if (f_[y].flags.ball == 0) readings.push_back({y, true});
        }
        return readings;
    }

    void arrange() {
        struct Piece {
            bool anchored;
            std::string text;
            std::vector<Reading> order;
        };
        std::vector<Piece> pieces;
        for (const std::vector<YarnId>& yarns : pieces_) {
            const std::vector<Reading> from = starts(yarns);
            Piece best{false, {}, walk(from.front())};
            if (from.size() > 1 || pieces_.size() > 1) best.text = textOf(best.order);
            for (std::size_t i = 1; i < from.size(); ++i) {
                std::vector<Reading> order = walk(from[i]);
                std::string text = textOf(order);
                if (text < best.text) {
                    best.text = std::move(text);
                    best.order = std::move(order);
                }
            }
            for (const YarnId y : yarns) {
                if (pieces_.size() == 1) break;  // nothing stands before it or after it
                along(f_, y, false,
                      [&](EntryId e) { best.anchored = best.anchored || f_[e].flags.anchored != 0; });
            }
            pieces.push_back(std::move(best));
        }
        std::stable_sort(pieces.begin(), pieces.end(), [](const Piece& x, const Piece& y) {
            return x.anchored != y.anchored ? x.anchored : x.text < y.text;
        });
        for (const Piece& piece : pieces) order_.insert(order_.end(), piece.order.begin(), piece.order.end());
    }

    /// Yarns of which only marks are left are no part of the knot. They come last, as the loops that they go
    /// by are numbered.
    void appendMarksOnly() {
        std::vector<bool> written(static_cast<std::size_t>(f_.yarnCount()), false);
        for (const Reading& r : order_) written[at(r.yarn)] = true;
        inKnot_ = order_.size();
        for (const LoopId loop : numbers_.order) {
            const StrandsId list = f_[loop].strands;
            for (PassId p = list ? f_[list].first : PassId{}; p; p = f_[p].passNext) {
                if (written[at(f_[p].yarn)]) continue;
                written[at(f_[p].yarn)] = true;
                order_.push_back({f_[p].yarn, f_.run(p) == Run::rightward});
            }
        }
        if (order_.size() != inKnot_) number();
    }

    void findRowEnds() {
        endsRow_.assign(static_cast<std::size_t>(f_.entryCount()), false);
        for (const Reading& r : order_) {
            EntryId last;
            along(f_, r.yarn, false, [&](EntryId e) {
                const bool loop = f_.isLoop(e);
                if (loop ? !f_.isNothing(e) : placeOf(f_.passed(e)).yarn != 0 && isWritten(e)) last = e;
                if (last && f_[e].flags.rowEnds != 0) endsRow_[at(last)] = true;
            });
        }
    }

    /// Both lines of these yarns alone: what holds them, and the yarn in them, settles what the knot does
    /// not.
    std::string textOf(const std::vector<Reading>& order) {
        order_ = order;
        inKnot_ = order_.size();
        number();
        std::string text = knot() + "\n" + measure();
        order_.clear();
        return text;
    }

    void number() {
        numbers_.order.clear();
        numbers_.yarns.clear();
        numbers_.reversed.clear();
        tools_.clear();
        std::fill(numbers_.places.begin(), numbers_.places.end(), Numbering::Place{});
        rank_.assign(static_cast<std::size_t>(f_.entryCount()), 0);
        std::int32_t yarn = 0;
        std::int32_t rank = 0;
        for (const Reading& r : order_) {
            ++yarn;
            std::int32_t loop = 0;
            numbers_.yarns.push_back(r.yarn);
            numbers_.reversed.push_back(r.reversed);
            along(f_, r.yarn, r.reversed, [&](EntryId e) {
                rank_[at(e)] = ++rank;
                if (!f_.isLoop(e)) {
                    if (isReal(f_, e)) numbers_.places[at(e)] = {yarn, 0};
                    return;
                }
                if (f_.isNothing(e)) return;
                numbers_.places[at(e)] = {yarn, ++loop};
                numbers_.order.push_back(e);
            });
        }
        for (std::int32_t t = 0; t < f_.toolCount(); ++t) {
            for (HeldId h = f_[ToolId{t}].first; h; h = f_[h].next) {
                if (placeOf(f_[h].loop).yarn == 0) continue;
                tools_.push_back(ToolId{t});
                break;
            }
        }
        const auto firstPlace = [&](ToolId tool) {
            HeldId h = f_[tool].first;
            while (placeOf(f_[h].loop).yarn == 0) h = f_[h].next;
            return rank_[at(f_[h].loop)];
        };
        std::sort(tools_.begin(), tools_.end(), [&](ToolId x, ToolId y) {
            if (f_[x].kind != f_[y].kind) return f_[x].kind < f_[y].kind;
            return firstPlace(x) < firstPlace(y);
        });
    }

    // ---- the text
    // -------------------------------------------------------------------------------------------

    bool isWritten(PassId pass) const { return f_.isFree(pass) || isReal(f_, pass); }
    /// Whether the strands that go by a loop lie in another order, bottom to top, than the text names them.
    bool outOfOrder(LoopId loop) const {
        std::int32_t last = -1;
        for (PassId p = f_[f_[loop].strands].first; p; p = f_[p].passNext) {
            if (!isWritten(p)) continue;
            if (rank_[at(p)] < last) return true;
            last = rank_[at(p)];
        }
        return false;
    }
    int heightOf(PassId pass) const {
        int i = 0;
        for (PassId p = f_[pass].passPrev; p; p = f_[p].passPrev) i += isWritten(p) ? 1 : 0;
        return i;
    }

    void writeYarn(std::string& text, Reading r) const {
        const std::int32_t me = numberOf(r.yarn);
        text += fmt::format("yarn {} {}", f_[r.yarn].flags.colour, endsOf(r));
        bool started = false;
        Run last = Run::leftward;
        along(f_, r.yarn, r.reversed, [&](EntryId e) {
            if (!isReal(f_, e)) return;
            const Run run = r.reversed ? opposite(f_.run(e)) : f_.run(e);
            if (!started || run != last) text += run == Run::leftward ? " <" : " >";
            started = true;
            last = run;
            if (f_.isLoop(e)) {
                writeLoop(text, e, me);
            } else {
                const LoopId loop = f_.passed(e);
                text += " ~";
                putName(text, loop, me);
                text += f_.passSide(e) == Side::right ? 'r' : 'w';
                if (outOfOrder(loop)) putHeight(text, heightOf(e));
            }
        });
    }

    static void putHeight(std::string& text, int height) {
        text += '@';
        put(text, height);
    }

    std::string_view endsOf(Reading r) const {
        return f_[r.yarn].flags.ball == 0 ? "ends" : r.reversed ? "ball-" : "ball";
    }
    std::int32_t numberOf(YarnId yarn) const {
        const auto it = std::find(numbers_.yarns.begin(), numbers_.yarns.end(), yarn);
        return static_cast<std::int32_t>(it - numbers_.yarns.begin()) + 1;
    }

    void writeLoop(std::string& text, LoopId loop, std::int32_t me) const {
        text += ' ';
        const LinkId first = f_[loop].firstLink;
        if (!first) text += 'o';
        for (LinkId l = first; l; l = f_[l].nextInLoop) {
            if (l != first) text += '&';
            const Link& link = f_[l];
            const Numbering::Place& host = placeOf(link.host);
            if (host.yarn != me) {
                put(text, host.yarn);
                text += '.';
            }
            put(text, host.loop);
            text += link.form.side == Side::right ? 'k' : 'p';
            if (link.form.twist != 0) putSigned(text, link.form.twist);
            switch (link.form.part) {
                case Part::opening: break;
                case Part::bothLegs: text += 'b'; break;
                case Part::rightLeg: text += 'r'; break;
                case Part::leftLeg: text += 'l'; break;
            }
            if (link.form.plies == Plies::pierced) text += 'h';
            if (link.form.plies == Plies::some) text += 's';
            if (link.prevInHost || link.nextInHost) {
                int i = 0;
                for (LinkId k = link.prevInHost; k; k = f_[k].prevInHost) ++i;
                putHeight(text, i);
            }
            if (!f_[first].nextInLoop) continue;
            text += '^';
            put(text, rankOfHost(loop, l));
        }
        if (f_[loop].flags.anchored != 0) text += '!';
    }

    int rankOfHost(LoopId loop, LinkId link) const {
        int rank = 0;
        for (LinkId l = f_[loop].firstLink; l; l = f_[l].nextInLoop) {
            if (f_[l].form.place < f_[link].form.place) ++rank;
        }
        return rank;
    }

    void writeCrossings(std::string& text) const {
        std::vector<CrossingId> crossings;
        for (std::int32_t i = 0; i < f_.crossingCount(); ++i) {
            const Crossing& x = f_[CrossingId{i}];
            if (x.sign != 0 && placeOf(x.a).yarn != 0 && placeOf(x.b).yarn != 0)
                crossings.push_back(CrossingId{i});
        }
        std::sort(crossings.begin(), crossings.end(), [&](CrossingId x, CrossingId y) {
            const auto key = [&](CrossingId c) {
                return std::make_pair(rank_[at(f_[c].a)], rank_[at(f_[c].b)]);
            };
            return key(x) < key(y);
        });
        for (const CrossingId c : crossings) {
            text += " | cross ";
            putName(text, f_[c].a, 0);
            text += ' ';
            putName(text, f_[c].b, 0);
            text += ' ';
            putSigned(text, f_[c].sign);
        }
    }

    void writeJoins(Out& out) const {
        struct Written {
            std::int32_t rank;
            std::int32_t twist;
            LoopId after;
        };
        std::vector<Written> joins;
        for (std::int32_t i = 0; i < f_.joinCount(); ++i) {
            LoopId after = f_[JoinId{i}].loop;
            while (after && placeOf(after).yarn == 0) after = f_.loopBefore(after);
            if (after) joins.push_back({rank_[at(after)], f_[JoinId{i}].twist, after});
        }
        std::sort(joins.begin(), joins.end(), [](const Written& x, const Written& y) {
            return x.rank != y.rank ? x.rank < y.rank : x.twist < y.twist;
        });
        for (const Written& join : joins)
            out = fmt::format_to(out, " | join {} {:+d}", name(join.after, 0), join.twist);
    }

    void measureYarn(Out& out, Reading r, bool inKnot) const {
        const Yarn& yarn = f_[r.yarn];
        const std::int32_t me = numberOf(r.yarn);
        // The strand on the reading side of a loop, and before the first one.
        const auto lead = [&] {
            if (!r.reversed) return yarn.leadUm;
            const EntryId last = yarn.last;
            const LoopId owner = f_.isLoop(last) ? last : f_.loopBefore(last);
            return owner ? f_[owner].strandUm : yarn.leadUm;
        }();
        const auto strandBeyond = [&](LoopId loop) {
            if (!r.reversed) return f_[loop].strandUm;
            const LoopId before = f_.loopBefore(loop);
            return before ? f_[before].strandUm : yarn.leadUm;
        };
        std::string body;
        std::string pending;  // what is written of the entries since the last real loop
        std::int32_t leadUm = lead;
        std::int32_t strand = 0;
        LoopId open;
        const auto close = [&] {
            if (open) {
                if (f_[open].um == yarn.loopUm && strand == yarn.strandUm) {
                    body += " =";
                } else {
                    body += ' ';
                    put(body, f_[open].um);
                    body += '/';
                    put(body, strand);
                }
                if (endsRow_[at(open)]) body += " ;";
            }
            body += pending;
            pending.clear();
        };
        along(f_, r.yarn, r.reversed, [&](EntryId e) {
            if (f_.isLoop(e)) {
                if (f_.isNothing(e)) {
                    (open ? strand : leadUm) += f_[e].um + strandBeyond(e);
                    return;
                }
                close();
                open = e;
                strand = strandBeyond(e);
                return;
            }
            if (isReal(f_, e)) {
                pending += endsRow_[at(e)] ? " . ;" : " .";
                return;
            }
            const LoopId loop = f_.passed(e);
            if (placeOf(loop).yarn == 0 || !f_.isFree(e)) return;
            const Run run = r.reversed ? opposite(f_.run(e)) : f_.run(e);
            pending += fmt::format(" ~{}{}{}", name(loop, me), run == Run::leftward ? '<' : '>',
                                   f_.passSide(e) == Side::right ? 'r' : 'w');
            if (outOfOrder(loop)) pending += fmt::format("@{}", heightOf(e));
            if (endsRow_[at(e)]) pending += " ;";
        });
        close();
        out = fmt::format_to(out, "yarn ");
        if (!inKnot) out = fmt::format_to(out, "{} {} ", yarn.flags.colour, endsOf(r));
        out = fmt::format_to(out, "{} {}/{}{}", leadUm, yarn.loopUm, yarn.strandUm, body);
    }

    const Fabric& f_;
    std::vector<std::vector<YarnId>> pieces_;
    std::vector<int> piece_;
    std::vector<Reading> order_;
    std::size_t inKnot_ = 0;  ///< how many of them have entries in the first line
    std::vector<ToolId> tools_;
    std::vector<std::int32_t> rank_;
    std::vector<bool> endsRow_;  ///< a row ends after it, or after what follows it and is not written
    Numbering numbers_;
};

}  // namespace

Itinerary itinerary(const Fabric& fabric) {
    Writer writer(fabric);
    return {writer.knot(), writer.measure()};
}

std::string knotOf(const Fabric& fabric) {
    return Writer(fabric).knot();
}

bool isInKnot(const Fabric& fabric, EntryId entry) {
    return isReal(fabric, entry);
}

Numbering numbering(const Fabric& fabric) {
    return Writer(fabric).numbers();
}

std::uint64_t hashOf(std::string_view text) {
    std::uint64_t hash = 14695981039346656037ULL;
    for (const char c : text) {
        hash ^= static_cast<unsigned char>(c);
        hash *= 1099511628211ULL;
    }
    return hash;
}

}  // namespace loopmend
