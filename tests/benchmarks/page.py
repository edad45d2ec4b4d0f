"""How the review page bears a large delivery: run by hand, ``python tests/benchmarks/page.py``.

Writes a page of 200 and one of 2,000 parts, opens both in headless Chromium and tells counts
and ratios: a page of ten times the parts should cost about ten times as much to write, and the
time to open and to filter it should grow by less. The times themselves are this machine's.
"""

import argparse
import shutil
import statistics
import sys
import tempfile
import time
from pathlib import Path

from click.testing import CliRunner
from playwright.sync_api import Browser, sync_playwright

from translator.commands import main

PART = """\
part M{n} "clip {n}" {{
  section L4x3-1/2x3/8   length 11-1/2   quantity {quantity}   grade A36
  leg a {{ holes 13/16 gauge {gauge} at 1-1/4, 3 @ 3 }}
  leg b {{ slots 13/16 x 1 across leg gauge 2 at 1-1/4, 3 @ 3
    stamp mark at 5-1/4 from heel 1/2 height 3/8 }}
}}
"""
FILTER = """() => {
  const search = document.getElementById("search");
  const times = [];
  for (const words of ["M1", "fillet", "m77", "", "clip 19", "no such thing", ""]) {
    const start = performance.now();
    search.value = words;
    search.dispatchEvent(new Event("input", { bubbles: true }));
    document.body.getBoundingClientRect();
    times.push(performance.now() - start);
  }
  return times;
}"""


def written(folder: Path, count: int) -> tuple[Path, float]:
    """Write the page of so many parts, every eighth with faults; return it and the seconds."""
    text = "units inch\n" + "".join(
        PART.format(n=n, quantity=1 + n % 40, gauge="3/4" if n % 8 == 0 else "2-1/2")
        for n in range(count)
    )
    source, page = folder / f"{count}.bmk", folder / f"{count}.html"
    source.write_text(text, encoding="utf-8")
    start = time.perf_counter()
    done = CliRunner().invoke(main, ["check", str(source), "--format", "html", "--out", str(page)])
    if done.exit_code not in (0, 1):
        raise SystemExit(done.output)
    return page, time.perf_counter() - start


def measured(browser: Browser, page: Path) -> dict[str, float]:
    """Open a page; return milliseconds until it is ready and of each filtering, and counts."""
    tab = browser.new_page(viewport={"width": 1280, "height": 900})
    start = time.perf_counter()
    tab.goto(page.as_uri())
    tab.locator("html[data-ready]").wait_for(state="attached")
    tab.evaluate("() => new Promise(done => requestAnimationFrame(() => setTimeout(done, 0)))")
    opened = (time.perf_counter() - start) * 1000.0
    times = [value for _ in range(3) for value in tab.evaluate(FILTER)]
    drawn = tab.locator("svg.picture").count()
    nodes = tab.evaluate("document.querySelectorAll('*').length")
    tab.close()
    return {
        "open_ms": opened,
        "filter_ms": statistics.median(times),
        "slowest_filter_ms": max(times),
        "pictures drawn": drawn,
        "elements": nodes,
        "kB a part": page.stat().st_size / 1000.0 / int(page.stem),
    }


def run() -> None:
    """Print what was measured and the ratios."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--parts", type=int, default=2000)
    count = options.parse_args().parts
    chromium = shutil.which("chromium") or sys.exit("there is no chromium on the path")
    with tempfile.TemporaryDirectory() as name, sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        results = []
        for parts in (count // 10, count):
            page, seconds = written(Path(name), parts)
            results.append({"write_s": seconds, **measured(browser, page)})
        browser.close()
    sys.stdout.write(f"{'':20}{count // 10:>12}{count:>12}{'ratio':>10}\n")
    for what in results[0]:
        small, large = (result[what] for result in results)
        sys.stdout.write(f"{what:20}{small:12.1f}{large:12.1f}{large / max(small, 1e-9):10.1f}\n")


if __name__ == "__main__":
    run()
