// SPDX-License-Identifier: MIT
#include "pattern/chart_layout.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace loopmend {

namespace {

/// Empty squares side by side are easier to follow than scattered ones: each further place of them costs as
/// much as a stitch that stands so many columns aside.
constexpr double kGap = 0.8;

/// Where a loop of a row stands: a cell, and so far from its right edge.
struct LoopAt {
    int cell = -1;  ///< -1: of the cast-on
    double offset = 0;
};

/// A cell worked into one of the row below: they want to stand above each other.
struct Tie {
    int lower = 0;  ///< cell of the lower row
    int upper = 0;
    double shift = 0;  ///< column of the lower one minus that of the upper one, if they do
    double weight = 1;
};

/// The kth of n stitches within so many squares.
double offsetOf(int k, int n, int width) {
    return n <= 1 ? 0.5 * (width - 1) : static_cast<double>(k) * (width - 1) / (n - 1);
}

/// Which cell of each row is worked into which cell of the row below. Adds the waiting cells.
class Tying {
  public:
    Tying(WrittenChart& chart, int castOn) : chart_(chart) {
        needle_.assign(static_cast<std::size_t>(std::max(castOn, 0)), LoopAt{});
    }

    std::vector<std::vector<Tie>> run() {
        std::vector<std::vector<Tie>> ties;
        for (WrittenRow& row : chart_.rows) ties.push_back(tieRow(row));
        return ties;
    }

  private:
    std::vector<Tie> tieRow(WrittenRow& row) {
        const bool leftward = row.facing == Facing::right;
        if (!leftward) std::reverse(needle_.begin(), needle_.end());
        addWaiting(row, leftward);
        std::vector<Tie> ties;
        std::vector<LoopAt> left(needle_.rbegin(), needle_.rend());  // the next one is the last
        std::vector<LoopAt> made;
        const int cells = static_cast<int>(row.cells.size());
        for (int n = 0; n < cells; ++n) {
            const int i = leftward ? n : cells - 1 - n;
            work(row, i, leftward, left, made, ties);
        }
        needle_ = std::move(made);
        needle_.insert(needle_.end(), left.rbegin(), left.rend());
        if (!leftward) std::reverse(needle_.begin(), needle_.end());
        return ties;
    }

    /// Stitches that the row does not reach. The sign for turning stands in the square of the first of them.
    void addWaiting(WrittenRow& row, bool leftward) const {
        int used = 0;
        bool turned = false;
        for (const ChartCell& cell : row.cells) {
            const auto step = stepOf(cell.sign, row.facing);
            if (!step) continue;
            used += uses(*step);
            turned = turned || step->op == Op::turn || step->op == Op::wrapTurn;
        }
        const int rest = static_cast<int>(needle_.size()) - used - (turned ? 1 : 0);
        if (rest < 1 || rest > kMostSquares) return;
        ChartCell waiting;
        waiting.kind = ChartCell::Kind::waiting;
        const auto n = static_cast<std::size_t>(rest);
        if (leftward) {
            row.cells.insert(row.cells.end(), n, waiting);
        } else {
            row.cells.insert(row.cells.begin(), n, waiting);
            if (row.boxed()) {
                row.boxFirst += n;
                row.boxEnd += n;
            }
        }
    }

    static void work(const WrittenRow& row, int i, bool leftward, std::vector<LoopAt>& left,
                     std::vector<LoopAt>& made, std::vector<Tie>& ties) {
        const ChartCell& cell = row.cells[static_cast<std::size_t>(i)];
        const int width = cell.width();
        int used = 1;
        int makesHere = 1;
        bool over = false;
        if (cell.kind == ChartCell::Kind::stitch) {
            const auto step = stepOf(cell.sign, row.facing);
            if (!step) return;
            const bool turn = step->op == Op::turn || step->op == Op::wrapTurn;
            used = turn ? (left.empty() ? 0 : 1) : uses(*step);
            makesHere = turn ? used : makes(*step);
            over = step->op == Op::passOver;
            if (used < 0) {
                for (int k = -used; k-- > 0;) left.push_back({i, place(k, -used, width, leftward)});
                used = 0;
            }
        } else if (cell.kind == ChartCell::Kind::none) {
            return;
        }
        for (int k = 0; k < used && !left.empty(); ++k) {
            const LoopAt from = left.back();
            left.pop_back();
            if (from.cell >= 0)
                ties.push_back({from.cell, i, place(k, used, width, leftward) - from.offset, 1.0 / used});
        }
        if (over && made.size() > 1) made.erase(made.end() - 2);
        for (int k = 0; k < makesHere; ++k) made.push_back({i, place(k, makesHere, width, leftward)});
    }

    static double place(int k, int n, int width, bool leftward) {
        const double along = offsetOf(k, n, width);
        return leftward ? along : width - 1 - along;
    }

    WrittenChart& chart_;
    std::vector<LoopAt> needle_;  ///< right to left, as the right side shows it
};

/// Columns for the cells of each row.
class Placing {
  public:
    Placing(WrittenChart& chart, std::vector<std::vector<Tie>> ties)
        : chart_(chart), ties_(std::move(ties)) {}

    void run() {
        cut();
        int widest = 0;
        for (std::size_t r = 0; r < rows(); ++r) {
            columns_.emplace_back(chart_.rows[r].cells.size(), 0);
            placed_.push_back(false);
            if (chart_.rows[r].width() > chart_.rows[static_cast<std::size_t>(widest)].width())
                widest = static_cast<int>(r);
        }
        const int n = static_cast<int>(rows());
        place(widest);
        for (int r = widest + 1; r < n; ++r) place(r);
        for (int r = widest - 1; r >= 0; --r) place(r);
        // Now with the neighbours on both sides known.
        for (int pass = 0; pass < 2; ++pass) {
            for (int r = 0; r < n; ++r) place(r);
            for (int r = n - 1; r >= 0; --r) place(r);
        }
        for (std::size_t r = 0; r < rows(); ++r) fill(r);
    }

  private:
    std::size_t rows() const { return chart_.rows.size(); }

    struct Part {
        std::size_t first = 0;
        std::size_t end = 0;
        int from = 0;
        int to = 0;
    };

    static int widthOf(const WrittenRow& row, std::size_t first, std::size_t end) {
        int sum = 0;
        for (std::size_t i = first; i < end; ++i) sum += row.cells[i].width();
        return sum;
    }

    /// Boxes whose edges need not jog are kept straight: right of the box, the box and left of it are then
    /// laid out each for itself.
    void cut() {
        width_ = chart_.width();
        straight_ = !chart_.rows.empty();
        for (const WrittenRow& row : chart_.rows) {
            straight_ = straight_ && row.boxed();
            if (!row.boxed()) continue;
            right_ = std::max(right_, widthOf(row, 0, row.boxFirst));
            box_ = std::max(box_, widthOf(row, row.boxFirst, row.boxEnd));
            left_ = std::max(left_, widthOf(row, row.boxEnd, row.cells.size()));
        }
        straight_ = straight_ && right_ + box_ + left_ == width_;
    }

    std::vector<Part> partsOf(const WrittenRow& row) const {
        if (!straight_) return {{0, row.cells.size(), 0, width_}};
        return {{0, row.boxFirst, 0, right_},
                {row.boxFirst, row.boxEnd, right_, right_ + box_},
                {row.boxEnd, row.cells.size(), right_ + box_, width_}};
    }

    void place(int r) {
        const auto row = static_cast<std::size_t>(r);
        for (const Part& part : partsOf(chart_.rows[row])) placePart(row, part);
        placed_[row] = true;
    }

    /// The cheapest columns from right to left; the slack of a cell is how many empty squares lie before it.
    void placePart(std::size_t r, const Part& part) {
        if (part.first == part.end) return;
        const std::vector<ChartCell>& cells = chart_.rows[r].cells;
        const int slack = part.to - part.from - widthOf(chart_.rows[r], part.first, part.end);
        const auto states = static_cast<std::size_t>(std::max(slack, 0)) + 1;
        const std::size_t n = part.end - part.first;
        std::vector<std::vector<std::pair<double, double>>> wishes = wishesOf(r, part);
        std::vector<double> best(states, kGap);
        best[0] = 0;
        std::vector<std::vector<std::size_t>> from(n, std::vector<std::size_t>(states));
        int base = part.from;
        for (std::size_t i = 0; i < n; ++i) {
            std::vector<double> next(states);
            std::size_t cheapest = 0;  // of those with an empty square more before this cell
            for (std::size_t s = 0; s < states; ++s) {
                if (s > 0 && best[s - 1] < best[cheapest] - 1e-9) cheapest = s - 1;
                const bool opens = s > 0 && best[cheapest] + kGap < best[s] - 1e-9;
                double cost = opens ? best[cheapest] + kGap : best[s];
                for (const auto& [column, weight] : wishes[i])
                    cost += weight * std::abs(base + static_cast<double>(s) - column);
                next[s] = cost;
                from[i][s] = opens ? cheapest : s;
            }
            best = std::move(next);
            base += cells[part.first + i].width();
        }
        for (std::size_t s = 0; s + 1 < states; ++s)
            best[s] += kGap;  // what is left over stands at the left edge
        auto s = static_cast<std::size_t>(std::min_element(best.begin(), best.end()) - best.begin());
        for (std::size_t i = n; i-- > 0;) {
            base -= cells[part.first + i].width();
            columns_[r][part.first + i] = base + static_cast<int>(s);
            s = from[i][s];
        }
    }

    /// For each cell of a part: columns where it would stand above or below its own, and how much that
    /// counts.
    std::vector<std::vector<std::pair<double, double>>> wishesOf(std::size_t r, const Part& part) const {
        std::vector<std::vector<std::pair<double, double>>> wishes(part.end - part.first);
        const auto within = [&](int cell) {
            return cell >= static_cast<int>(part.first) && cell < static_cast<int>(part.end);
        };
        if (r > 0 && placed_[r - 1]) {
            for (const Tie& tie : ties_[r]) {
                if (!within(tie.upper)) continue;
                const int below = columns_[r - 1][static_cast<std::size_t>(tie.lower)];
                wishes[static_cast<std::size_t>(tie.upper) - part.first].emplace_back(below - tie.shift,
                                                                                      tie.weight);
            }
        }
        if (r + 1 < rows() && placed_[r + 1]) {
            for (const Tie& tie : ties_[r + 1]) {
                if (!within(tie.lower)) continue;
                const int above = columns_[r + 1][static_cast<std::size_t>(tie.upper)];
                wishes[static_cast<std::size_t>(tie.lower) - part.first].emplace_back(above + tie.shift,
                                                                                      tie.weight);
            }
        }
        return wishes;
    }

    void fill(std::size_t r) {
        WrittenRow& row = chart_.rows[r];
        const std::vector<int>& column = columns_[r];
        const std::size_t n = row.cells.size();
        const auto endOf = [&](std::size_t i) { return column[i] + row.cells[i].width(); };
        int boxFrom = right_;
        int boxTo = right_ + box_;
        if (row.boxed() && !straight_) {
            boxFrom = row.boxFirst == 0 ? 0 : endOf(row.boxFirst - 1);
            boxTo = row.boxEnd == n ? width_ : column[row.boxEnd];
        }
        WrittenRow full = row;
        full.cells.clear();
        ChartCell none;
        none.kind = ChartCell::Kind::none;
        bool first = false;
        int at = 0;
        const auto put = [&](const ChartCell& cell) {
            if (row.boxed() && at < boxTo) {
                if (at >= boxFrom && !first) {
                    first = true;
                    full.boxFirst = full.cells.size();
                }
                full.boxEnd = full.cells.size() + 1;
            }
            full.cells.push_back(cell);
            at += cell.width();
        };
        for (std::size_t i = 0; i < n; ++i) {
            while (at < column[i]) put(none);
            put(row.cells[i]);
        }
        while (at < width_) put(none);
        row = std::move(full);
    }

    WrittenChart& chart_;
    std::vector<std::vector<Tie>> ties_;
    std::vector<std::vector<int>> columns_;
    std::vector<bool> placed_;
    bool straight_ = false;
    int width_ = 0;
    int right_ = 0;
    int box_ = 0;
    int left_ = 0;
};

}  // namespace

void layOut(WrittenChart& chart, int castOn) {
    std::vector<std::vector<Tie>> ties = Tying(chart, castOn).run();
    Placing(chart, std::move(ties)).run();
}

}  // namespace loopmend
