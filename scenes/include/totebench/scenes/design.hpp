// Designs of experiments: what each factor of a plan is in each of its runs. They know of numbers
// only, and depend on nothing else.
#pragma once

#include <cstddef>
#include <vector>

namespace totebench::scenes {

// Full factorial: how many ways there are to take one level of each factor. `levels`: per factor,
// how many it has.
[[nodiscard]] std::size_t n_combinations(const std::vector<int>& levels);

// The level, from 0, that each factor has in one of them; the last factor runs fastest.
[[nodiscard]] std::vector<int> combination(const std::vector<int>& levels, std::size_t run);

// Latin hypercube: n_runs rows of one share of its range per factor, above or at 0 and below 1.
// Each range is cut in n_runs parts of equal width, each part is used once, in an order shuffled
// for that factor alone, and the share lies anywhere in its part. A factor's shares depend on its
// place, on n_runs and on the seed only.
[[nodiscard]] std::vector<std::vector<double>> latin_hypercube(std::size_t n_factors,
                                                               std::size_t n_runs, unsigned seed);

}  // namespace totebench::scenes
