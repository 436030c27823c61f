#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Drawings and reports as readers see them that are not ours: tests/readers.py BINARY, from the top folder.

DXF through ezdxf's audit, with no error and nothing mended, and through GDAL, which must find as many entities and the
same texts; SVG and the report as HTML in a headless Chromium: well formed, at three widths nothing beyond the window's
edge, drawings in letters that can be read, and no request but for the file itself.  Each check is then seen to fail
on a fault that is planted.  It needs what `tests/setup.sh readers` installs, and says so where that is not there.
"""
import html
import json
import os
import re
import select
import shutil
import subprocess
import sys
import tempfile
import time

passed = failed = 0


def tried(what, complaints):
    global passed, failed
    if not complaints:
        passed += 1
        return
    failed += 1
    print("not ok " + what)
    for line in complaints[:12]:
        print("    " + str(line)[:300])


def planted(what, complaints):
    tried("planted: " + what, [] if complaints else ["nothing noticed it"])


# ---- DXF -------------------------------------------------------------------------------------------------------------

def audited(path):
    """What ezdxf finds or mends; and of what it read the kinds of entities and the texts."""
    try:
        drawing = ezdxf.readfile(path)
        auditor = drawing.audit()
    except Exception as why:                                    # each of its faults has a class of its own
        return ["ezdxf: %s: %s" % (type(why).__name__, why)], 0, []
    bad = ["error: %s" % e.message for e in auditor.errors] + ["mended: %s" % f.message for f in auditor.fixes]
    entities = list(drawing.modelspace())
    return bad, len(entities), sorted(e.dxf.text for e in entities if e.dxftype() == "TEXT")


def decoded(text):
    """The letters of a value as GDAL reads it, which takes %%u for a line below; letters by their number are read."""
    for code, letter in (("%%u", ""), ("%%d", "\u00b0"), ("%%p", "\u00b1"), ("%%c", "\u00d8")):
        text = text.replace(code, letter)
    return re.sub(r"\\U\+([0-9A-Fa-f]{4})", lambda m: chr(int(m.group(1), 16)), text).replace("^ ", "^")


def read_by_gdal(path):
    """What GDAL complains of, how many entities it sees, and their texts."""
    run = subprocess.run(["ogrinfo", "-ro", "-al", path], capture_output=True, text=True, errors="replace")
    bad = [line for line in run.stderr.splitlines() if line.strip()]
    if run.returncode or "Layer name: entities" not in run.stdout:
        bad.append("ogrinfo ends with %d" % run.returncode)
    found = re.findall(r"^OGRFeature\(entities\)", run.stdout, re.M)
    return bad, len(found), re.findall(r"^  Text \(String\) = (.*)$", run.stdout, re.M)


def judge_dxf(path):
    bad, entities, texts = audited(path)
    theirs, count, labels = read_by_gdal(path)
    if bad or theirs:
        return bad + theirs
    if count != entities:
        bad.append("ezdxf sees %d entities, GDAL %d" % (entities, count))
    if sorted(decoded(t) for t in texts) != sorted(decoded(t) for t in labels):
        mine, other = {decoded(t) for t in texts}, {decoded(t) for t in labels}
        bad.append("other texts: %r" % sorted(mine ^ other)[:4])
    return bad


# ---- a browser -------------------------------------------------------------------------------------------------------

class Browser:
    """Chromium without a window, asked through its pipe."""

    def __init__(self, folder):
        down, self.to = os.pipe()
        self.back, up = os.pipe()
        # It reads at 3 and writes at 4, which may be others' here.
        keep = [os.dup2(fd, at) for fd, at in ((down, 90), (up, 91))]

        def at_3_and_4():
            os.dup2(90, 3)
            os.dup2(91, 4)
        self.said = open(os.path.join(folder, "chromium.log"), "w+")
        self.process = subprocess.Popen(
            ["chromium", "--headless", "--no-sandbox",
             "--disable-gpu", "--remote-debugging-pipe", "--user-data-dir=" + os.path.join(folder, "chromium"),
             "--host-resolver-rules=MAP * ~NOTFOUND", "--no-first-run", "--disable-background-networking"],
            pass_fds=(3, 4), preexec_fn=at_3_and_4, stdout=self.said, stderr=self.said, stdin=subprocess.DEVNULL)
        for fd in [down, up] + keep:
            os.close(fd)
        self.last, self.rest, self.events = 0, b"", []
        target = self.ask("Target.createTarget", url="about:blank")["targetId"]
        self.session = self.ask("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]
        for domain in "Page", "Network", "Log", "Runtime":
            self.ask(domain + ".enable")

    def next(self, seconds):
        """The next message, or None after so many seconds."""
        until = time.monotonic() + seconds
        while b"\0" not in self.rest:
            ready, _, _ = select.select([self.back], [], [], max(0, until - time.monotonic()))
            if not ready:
                return None
            some = os.read(self.back, 1 << 16)
            if not some:
                raise RuntimeError("Chromium ended")
            self.rest += some
        one, self.rest = self.rest.split(b"\0", 1)
        return json.loads(one)

    def ask(self, method, **params):
        self.last += 1
        message = {"id": self.last, "method": method, "params": params}
        if hasattr(self, "session"):
            message["sessionId"] = self.session
        os.write(self.to, json.dumps(message).encode() + b"\0")
        while True:
            got = self.next(60)
            if got is None:
                raise RuntimeError("Chromium does not answer " + method)
            if got.get("id") == self.last:
                if "error" in got:
                    raise RuntimeError("%s: %s" % (method, got["error"]))
                return got["result"]
            self.events.append(got)

    def value(self, expression):
        got = self.ask("Runtime.evaluate", expression=expression, returnByValue=True)
        if "exceptionDetails" in got:
            raise RuntimeError(got["exceptionDetails"])
        return got["result"].get("value")

    def show(self, path, width=1280):
        """Opens a file in a window of that width; gives what it asked for besides, and what it complained of."""
        self.ask("Emulation.setDeviceMetricsOverride", width=width, height=900, deviceScaleFactor=1, mobile=False)
        self.events = []
        url = "file://" + os.path.abspath(path)
        self.ask("Page.navigate", url=url)
        until = time.monotonic() + 60
        while not any(e.get("method") == "Page.loadEventFired" for e in self.events):
            got = self.next(max(0, until - time.monotonic()))
            if got is None:
                return ["the page does not load"]
            self.events.append(got)
        # What a page asks for once it is there: a moment of quiet.
        while (got := self.next(0.15)) is not None:
            self.events.append(got)
        bad = []
        for e in self.events:
            params = e.get("params", {})
            if e.get("method") == "Network.requestWillBeSent" and params["request"]["url"] != url:
                bad.append("it asks for " + params["request"]["url"])
            elif e.get("method") == "Log.entryAdded":
                bad.append("it complains: " + params["entry"]["text"])
        return bad

    def end(self):
        os.close(self.to)
        try:
            self.process.wait(20)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait()


# What stands beyond the edge of the window, and is in nothing that can be moved sideways.
BEYOND = """(() => {
  const wide = document.documentElement.clientWidth, bad = [];
  if (document.documentElement.scrollWidth > wide)
    bad.push("the page is " + document.documentElement.scrollWidth + " px wide in a window of " + wide);
  for (const e of document.body.querySelectorAll("*")) {
    if (e.closest("svg") && e.tagName !== "svg") continue;
    let held = false;
    for (let up = e.parentElement; up; up = up.parentElement)
      held = held || ["auto", "scroll"].includes(getComputedStyle(up).overflowX);
    const box = e.getBoundingClientRect();
    if (!held && box.width > 0 && box.right > wide + 1)
      bad.push(e.tagName + " ends at " + Math.round(box.right) + ": " + e.textContent.slice(0, 60));
  }
  return bad;
})()"""
# Drawings, how wide each is, and how high its least letters: capitals are 0.729 of the font's size in this face.
DRAWN = """[...document.querySelectorAll("figure.drawing svg")].map(s => {
  const by = s.getBoundingClientRect().width / s.viewBox.baseVal.width;
  return { wide: s.getBoundingClientRect().width, title: s.querySelector("title").textContent,
    least: Math.min(...[...s.querySelectorAll("text")].map(t => parseFloat(t.getAttribute("font-size")) * by)) };
})"""
WIDTHS = 400, 800, 1280


def judge_page(browser, path, drawings):
    bad = []
    for width in WIDTHS:
        bad += ["%d px: %s" % (width, one) for one in browser.show(path, width) + browser.value(BEYOND)]
        drawn = browser.value(DRAWN)
        if len(drawn) != drawings:
            bad.append("%d drawings of %d" % (len(drawn), drawings))
        for one in drawn:
            # 1000 px: at 400 the lettering of a tabloid page would be 4 px high.
            if one["wide"] < 1000 or one["least"] < 8:
                bad.append("%d px: %s is %d px wide, its letters %.1f" %
                           (width, one["title"], one["wide"], one["least"]))
    return bad


# An SVG that is not well formed becomes a page that says so, in an element of the browser's own.
WELL = """document.documentElement.localName === "svg" && !document.querySelector("parsererror") ?
  [...document.querySelectorAll("text")].map(t => t.textContent) : null"""


def judge_svg(browser, path):
    bad = browser.show(path)
    shown = browser.value(WELL)
    if shown is None:
        return bad + ["it is not well formed"]
    with open(path, encoding="utf-8") as file:
        texts = [html.unescape(t) for t in re.findall(r"<text[^>]*>([^<]*)</text>", file.read())]
    return bad + ([] if shown == texts else ["other texts than the file has"])


# ---- jobs ------------------------------------------------------------------------------------------------------------

EGG = "examples/egg-farm/job.sline"
JOBS = (
    # name, script, options
    ("egg-farm", EGG, ()),
    ("wool-store", "examples/wool-store/job.sline", ("--set", "job.stage=permit")),
    ("broken-wheel", "examples/broken-wheel/job.sline", ("--set", "job.stage=permit")),
    ("quote", "examples/broken-wheel/job.sline", ()),
    ("southern", "tests/pages/jobs/southern/job.sline", ()),
)
NAMES = ('A & B < C > "D" %%u 50% ^J \\U+0041 \u00fc \u00e9 \U0001f33d \u4e2d', "W" * 300)


def named(folder, name):
    """A copy of the egg farm that is called so."""
    shutil.copytree("examples/egg-farm", folder)
    path = os.path.join(folder, "job.sline")
    with open(path, encoding="utf-8") as file:
        script = file.read()
    quoted = '"' + name.replace("\\", "\\\\").replace('"', '\\"') + '"'
    changed = script.replace('"Egg farm, eight modules"', quoted)
    assert changed != script
    with open(path, "w", encoding="utf-8") as file:
        file.write(changed)
    return path


def main():
    binary = os.path.abspath(sys.argv[1])
    folder = tempfile.mkdtemp()
    browser = Browser(folder)
    try:
        judge_all(binary, folder, browser)
    finally:
        browser.end()
        shutil.rmtree(folder)
    print("readers: %d passed, %d failed" % (passed, failed))
    return 0 if failed == 0 and passed else 1


def judge_all(binary, folder, browser):
    def run(*words):
        done = subprocess.run([binary, *words], capture_output=True, text=True, errors="replace")
        return [] if done.returncode in (0, 1) else ["exit %d: %s" % (done.returncode, done.stderr)]
    jobs = list(JOBS)
    for i, name in enumerate(NAMES):
        jobs.append(("name-%d" % i, named(os.path.join(folder, "named-%d" % i), name), ()))
    for name, script, options in jobs:
        at, page = os.path.join(folder, name), os.path.join(folder, name + ".html")
        tried(name + ": it is drawn", run("draw", script, *options, "-o", at))
        tried(name + ": its report", run("run", script, *options, "--format", "html", "-o", page))
        views = 0
        for file in sorted(os.listdir(at)):
            path = os.path.join(at, file)
            if file.endswith(".dxf"):
                tried(name + ": " + file, judge_dxf(path))
            elif file.endswith(".svg"):
                tried(name + ": " + file, judge_svg(browser, path))
                with open(path, encoding="utf-8") as one:
                    views += re.search(r">Scale [^<]*<", one.read()) is not None
        tried(name + ": views are drawn", [] if views else ["none is"])
        tried(name + ": its report in windows of three widths", judge_page(browser, page, views))
        if name == "egg-farm":
            of_egg = views
    plant(folder, browser, of_egg)


# ---- planted faults --------------------------------------------------------------------------------------------------

def plant(folder, browser, views):
    """Puts faults into good files, one each: the reader must notice it, or the check above looks at nothing."""
    def changed(source, ending, find, by):
        with open(os.path.join(folder, source), encoding="utf-8") as file:
            text = file.read()
        bad, n = re.subn(find, lambda m: by, text, count=1)
        assert n == 1, "nothing to plant: " + find
        path = os.path.join(folder, "planted" + ending)
        with open(path, "w", encoding="utf-8") as file:
            file.write(bad)
        return path
    side = "egg-farm/" + next(f[:-4] for f in os.listdir(os.path.join(folder, "egg-farm")) if f.endswith("-side.svg"))
    for what, find, by in (
            ("an end of file that is missing", "  0\nEOF\n", ""),
            ("a number that is none", "\n 10\n[-0-9.]+", "\n 10\nsome"),
            ("a style that is not declared", "\n  7\nLETTERS\n", "\n  7\nOTHERS\n"),
            ("a colour that there is none of", "\n 62\n4\n", "\n 62\n4000\n"),
            ("an end of a section that is missing", "  0\nENDSEC\n", ""),
            ("a pair cut in two", "\n 62\n", "\n"),
            ("a text that only one of them reads", "  1\ntop edge", "  1\n%%otop edge")):
        planted("DXF: " + what, judge_dxf(changed(side + ".dxf", ".dxf", find, by)))
    with open(os.path.join(folder, side + ".dxf"), encoding="ascii") as file:
        text = file.read()
    short = os.path.join(folder, "short.dxf")
    with open(short, "w", encoding="ascii") as file:
        file.write(text[:text.index("ENTITIES") + 4000])
    planted("DXF: half a file", read_by_gdal(short)[0])
    for what, find, by in (
            ("a tag that is not closed", "</text>", ""),
            ("a bare &", "top edge", "top & edge"),
            ("a font from elsewhere", "<title>", '<style>@import url("http://a.invalid/f.css");</style><title>')):
        planted("SVG: " + what, judge_svg(browser, changed(side + ".svg", ".svg", find, by)))
    for what, find, by in (
            ("something wider than the window", "<h2>", '<div style="width: 1500px; height: 1px">.</div><h2>'),
            ("a table that cannot be moved", r"\.scroll \{ overflow-x: auto; \}", ""),
            ("drawings as small as the window", "min-width: 1000px", ""),
            ("a picture from elsewhere", "<h2>", '<img src="http://a.invalid/p.png" alt=""><h2>'),
            ("a script", "<h2>", "<script>1</script><h2>"),
            ("a drawing that is missing", '(?s)<figure class="drawing".*?</figure>', "")):
        planted("HTML: " + what, judge_page(browser, changed("egg-farm.html", ".html", find, by), views))


if __name__ == "__main__":
    try:
        import ezdxf
    except ImportError:
        print("readers: python3-ezdxf is not there: tests/setup.sh readers installs what is missing", file=sys.stderr)
        sys.exit(2)
    for program in "ogrinfo", "chromium":
        if not shutil.which(program):
            print("readers: %s is not there: tests/setup.sh readers installs what is missing" % program,
                  file=sys.stderr)
            sys.exit(2)
    sys.exit(main())
