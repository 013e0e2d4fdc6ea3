#include "viz/report/film_page.hpp"

#include <fmt/format.h>

#include "totebench/viz/report_model.hpp"
#include "totebench/viz/svg_chart.hpp"

namespace totebench::viz {
namespace {

constexpr const char* kHead = R"(<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{0}</title>
<style>
  body {{ margin: 0 auto; max-width: 80rem; padding: 0.5rem; font: 1rem/1.4 system-ui, sans-serif; }}
  h1 {{ margin: 0 0.5rem; font-size: 1.3rem; }}
  img {{ display: none; max-width: 100%; max-height: calc(100vh - 7rem); margin: 0 auto; }}
  img.shown {{ display: block; }}
  form {{ display: flex; gap: 1rem; align-items: center; padding: 0.5rem; }}
  input {{ flex: 1; }}
</style>
</head>
<body>
<h1>{0}</h1>
)";

constexpr const char* kPageFoot = R"(<form>
<button type="button" id="play">Play</button>
<input type="range" id="moment" min="0" max="{0}" value="0" aria-label="moment of the film">
</form>
<script>
const pictures = document.querySelectorAll('img');
const moment = document.getElementById('moment'), play = document.getElementById('play');
let clock = null;
function show(i) {{
  pictures.forEach((picture, k) => picture.classList.toggle('shown', k === i));
  moment.value = i;
}}
function run(on) {{
  clearInterval(clock);
  clock = on ? setInterval(() => show((Number(moment.value) + 1) % pictures.length), {1:.1f}) : null;
  play.textContent = on ? 'Stop' : 'Play';
}}
moment.addEventListener('input', () => {{ run(false); show(Number(moment.value)); }});
play.addEventListener('click', () => run(clock === null));
show(0);
run(!matchMedia('(prefers-reduced-motion: reduce)').matches);
</script>
</body>
</html>
)";

}  // namespace

std::string film_page(const std::string& title, const std::vector<std::string>& pictures_png,
                      double frames_per_s) {
  std::string page = fmt::format(kHead, escaped(title));
  for (std::size_t i = 0; i < pictures_png.size(); ++i) {
    page +=
        fmt::format("<img alt=\"moment {} of {}\" src=\"data:image/png;base64,{}\">\n", i + 1,
                    pictures_png.size(), base64(pictures_png[i].data(), pictures_png[i].size()));
  }
  return page + fmt::format(kPageFoot, pictures_png.empty() ? 0 : pictures_png.size() - 1,
                            1000 / frames_per_s);
}

}  // namespace totebench::viz
