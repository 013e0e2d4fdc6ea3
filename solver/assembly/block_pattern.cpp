#include "solver/assembly/block_pattern.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <stdexcept>
#include <string>

namespace totebench::solver {
namespace {

constexpr int kLargestBlock = EnergyTerm::kLargestBlock;

void check_size(const EnergyTerm& term, std::size_t n_unknowns) {
  if (n_unknowns <= kLargestBlock) return;
  throw std::invalid_argument("energy term '" + std::string(term.name()) + "': a block of " +
                              std::to_string(n_unknowns) + " unknowns, where at most " +
                              std::to_string(kLargestBlock) + " can be assembled");
}

struct Item {
  int row;
  int position;  // in the blocks' values; -1 for an entry that is only kept
};

bool same_pattern(const Eigen::SparseMatrix<double>& a, const Eigen::SparseMatrix<double>& b) {
  return a.cols() == b.cols() && a.nonZeros() == b.nonZeros() &&
         std::equal(a.outerIndexPtr(), a.outerIndexPtr() + a.cols() + 1, b.outerIndexPtr()) &&
         std::equal(a.innerIndexPtr(), a.innerIndexPtr() + a.nonZeros(), b.innerIndexPtr());
}

}  // namespace

void BlockPattern::list(const std::vector<const EnergyTerm*>& terms, int n_unknowns) {
  entries_.clear();
  n_hessian_ = n_gradient_ = 0;
  for (const EnergyTerm* term : terms) {
    for (int b = 0; b < term->n_blocks(); ++b) {
      const std::span<const int> unknowns = term->unknowns(b);
      check_size(*term, unknowns.size());
      entries_.push_back({term, b, unknowns, n_gradient_, n_hessian_});
      n_gradient_ += unknowns.size();
      n_hessian_ += unknowns.size() * (unknowns.size() + 1) / 2;
    }
  }
  gradient_gather_start_.assign(n_unknowns + 1, 0);
  for (const Entry& entry : entries_) {
    for (const int unknown : entry.unknowns) ++gradient_gather_start_[unknown + 1];
  }
  for (int i = 0; i < n_unknowns; ++i) gradient_gather_start_[i + 1] += gradient_gather_start_[i];
  gradient_gather_.resize(n_gradient_);
  std::vector<int> next(gradient_gather_start_.begin(), gradient_gather_start_.end() - 1);
  for (const Entry& entry : entries_) {
    for (std::size_t i = 0; i < entry.unknowns.size(); ++i) {
      gradient_gather_[next[entry.unknowns[i]]++] = static_cast<int>(entry.first_gradient + i);
    }
  }
  is_stale_ = true;
}

void BlockPattern::keep(const Eigen::SparseMatrix<double>& lower) {
  kept_ = lower;
  kept_.makeCompressed();
  is_stale_ = true;
}

void BlockPattern::update_hessian(const std::vector<int>& free_index, int n_free) {
  if (!is_stale_) return;
  is_stale_ = false;
  local_.resize(n_hessian_);

  // Every entry of a block in the lower triangle, in the order of the blocks ...
  const auto for_each_item = [&](auto&& visit) {  // column, row, position
    for (const Entry& entry : entries_) {
      std::size_t position = entry.first_hessian;
      const std::size_t n = entry.unknowns.size();
      for (std::size_t j = 0; j < n; ++j) {
        const int fj = free_index[entry.unknowns[j]];
        for (std::size_t i = j; i < n; ++i, ++position) {
          const int fi = free_index[entry.unknowns[i]];
          if (fi >= 0 && fj >= 0) {
            visit(std::min(fi, fj), std::max(fi, fj), static_cast<int>(position));
          }
        }
      }
    }
    for (int c = 0; c < n_free; ++c) visit(c, c, -1);  // the diagonal is always there
    for (int c = 0; c < kept_.cols(); ++c) {
      for (Eigen::SparseMatrix<double>::InnerIterator it(kept_, c); it; ++it) {
        visit(c, static_cast<int>(it.row()), -1);
      }
    }
  };
  // ... put into the buckets of their rows, and these, row by row, into those of their columns:
  // entries of a column come to stand by rising row and, of one row, in the order of the blocks.
  std::vector<int> row_start(n_free + 1, 0);
  std::vector<int> item_start(n_free + 1, 0);
  for_each_item([&](int column, int row, int) {
    ++row_start[row + 1];
    ++item_start[column + 1];
  });
  for (int c = 0; c < n_free; ++c) {
    row_start[c + 1] += row_start[c];
    item_start[c + 1] += item_start[c];
  }
  struct OfRow {
    int column, position;
  };
  std::vector<OfRow> by_row(row_start.back());
  std::vector<int> place(row_start.begin(), row_start.end() - 1);
  for_each_item([&](int column, int row, int position) {
    by_row[place[row]++] = {column, position};
  });
  std::vector<Item> items(item_start.back());
  place.assign(item_start.begin(), item_start.end() - 1);
  for (int row = 0; row < n_free; ++row) {
    for (int k = row_start[row]; k < row_start[row + 1]; ++k) {
      items[place[by_row[k].column]++] = {row, by_row[k].position};
    }
  }

  // Those of one row, to be added up, give an entry of the compressed lower triangle.
  std::vector<int> rows;
  std::vector<int> column_start(n_free + 1, 0);
  gather_.clear();
  gather_.reserve(items.size());
  gather_start_.clear();
  for (int c = 0; c < n_free; ++c) {
    const auto begin = items.begin() + item_start[c];
    const auto end = items.begin() + item_start[c + 1];
    for (auto item = begin; item != end; ++item) {
      if (item == begin || item->row != std::prev(item)->row) {
        gather_start_.push_back(static_cast<int>(gather_.size()));
        rows.push_back(item->row);
      }
      if (item->position >= 0) gather_.push_back(item->position);
    }
    column_start[c + 1] = static_cast<int>(rows.size());
  }
  gather_start_.push_back(static_cast<int>(gather_.size()));

  Eigen::SparseMatrix<double> hessian(n_free, n_free);
  hessian.resizeNonZeros(static_cast<Eigen::Index>(rows.size()));
  std::copy(column_start.begin(), column_start.end(), hessian.outerIndexPtr());
  std::copy(rows.begin(), rows.end(), hessian.innerIndexPtr());
  std::fill_n(hessian.valuePtr(), rows.size(), 0.0);
  if (!same_pattern(hessian, hessian_)) ++version_;
  hessian_.swap(hessian);

  kept_place_.clear();
  for (int c = 0; c < kept_.cols(); ++c) {
    const auto begin = rows.begin() + column_start[c];
    const auto end = rows.begin() + column_start[c + 1];
    for (Eigen::SparseMatrix<double>::InnerIterator it(kept_, c); it; ++it) {
      const auto found = std::lower_bound(begin, end, static_cast<int>(it.row()));
      kept_place_.push_back(static_cast<int>(found - rows.begin()));
    }
  }
}

Eigen::VectorXd BlockPattern::gathered(const std::vector<double>& gradients) const {
  Eigen::VectorXd sum(static_cast<Eigen::Index>(gradient_gather_start_.size()) - 1);
#pragma omp parallel for schedule(static)
  for (Eigen::Index i = 0; i < sum.size(); ++i) {
    double s = 0;
    for (int k = gradient_gather_start_[i]; k < gradient_gather_start_[i + 1]; ++k) {
      s += gradients[gradient_gather_[k]];
    }
    sum[i] = s;
  }
  return sum;
}

Eigen::VectorXd BlockPattern::gradient(const State& state) const {
  std::vector<double> gradients(n_gradient_);
#pragma omp parallel for schedule(static)
  for (std::size_t e = 0; e < entries_.size(); ++e) {
    const Entry& entry = entries_[e];
    entry.term->derivatives(state, entry.block, HessianPart::kExact,
                            &gradients[entry.first_gradient], nullptr);
  }
  return gathered(gradients);
}

template <typename Times>
Eigen::VectorXd BlockPattern::hessians_times(const Eigen::VectorXd& y, const Times& times) const {
  std::vector<double> products(n_gradient_);
#pragma omp parallel for schedule(static)
  for (std::size_t e = 0; e < entries_.size(); ++e) {
    const Entry& entry = entries_[e];
    const std::size_t n = entry.unknowns.size();
    double* product = &products[entry.first_gradient];
    const double* value = &local_[entry.first_hessian];
    for (std::size_t j = 0; j < n; ++j) {
      for (std::size_t i = j; i < n; ++i, ++value) {
        product[i] += times(*value, y[entry.unknowns[j]]);
        if (i != j) product[j] += times(*value, y[entry.unknowns[i]]);
      }
    }
  }
  return gathered(products);
}

Eigen::VectorXd BlockPattern::product(const Eigen::VectorXd& y) const {
  return hessians_times(y, [](double h, double v) { return h * v; });
}

Eigen::VectorXd BlockPattern::magnitude(const Eigen::VectorXd& y) const {
  return hessians_times(y, [](double h, double v) { return std::abs(h * v); });
}

Eigen::VectorXd BlockPattern::assemble(const State& state, HessianPart part,
                                       const std::vector<int>& free_index, int n_free,
                                       const Eigen::VectorXd& diagonal,
                                       const Eigen::VectorXd& kept_values) {
  update_hessian(free_index, n_free);
  std::vector<double> gradients(n_gradient_);
#pragma omp parallel for schedule(static)
  for (std::size_t e = 0; e < entries_.size(); ++e) {
    const Entry& entry = entries_[e];
    alignas(32) double block[kLargestBlock * kLargestBlock];
    entry.term->derivatives(state, entry.block, part, &gradients[entry.first_gradient], block);
    const std::size_t n = entry.unknowns.size();
    double* out = &local_[entry.first_hessian];
    for (std::size_t j = 0; j < n; ++j) {
      for (std::size_t i = j; i < n; ++i) *out++ = block[j * n + i];
    }
  }
  double* values = hessian_.valuePtr();
  const Eigen::Index n_values = hessian_.nonZeros();
#pragma omp parallel for schedule(static)
  for (Eigen::Index k = 0; k < n_values; ++k) {
    double sum = 0;
    for (int g = gather_start_[k]; g < gather_start_[k + 1]; ++g) sum += local_[gather_[g]];
    values[k] = sum;
  }
  for (Eigen::Index c = 0; c < diagonal.size(); ++c) {
    values[hessian_.outerIndexPtr()[c]] += diagonal[c];
  }
  for (Eigen::Index k = 0; k < kept_values.size(); ++k) values[kept_place_[k]] += kept_values[k];
  return gathered(gradients);
}

}  // namespace totebench::solver
