"""Opens HTML documents as a phone does and tells what is wrong, one line a fault; exit code 1 where there is any.

Usage: check_html.py [--closed] FILE.html …

What the file itself says is always checked: one script, the one that the page's own policy names by its hash, no
other code, nothing from outside, every link into the page. The rest wants a Chromium on the path (or in
RIGBINDER_CHROMIUM) and is left out with `--closed`: no fault and no request while it runs, nothing wider than a
screen of 360 px, nothing that axe-core calls serious or critical in light and dark, targets of 44 px, the search by
keyboard, and the whole text without any script.
"""
import base64
import hashlib
import html.parser
import os
import pathlib
import re
import shutil
import sys

ADDRESS = re.compile(r"^(#|data:image/svg\+xml,|tel:|mailto:|https://|[A-Za-z0-9._-]+\.(html|ics)(#|$))")
LOADS = {"img", "source", "video", "audio", "iframe", "embed", "object", "link", "base", "form"}
PHONE = {"width": 360, "height": 740}
# Tags of axe-core: WCAG 2.2 to level AA, and its own good practice.
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


class Page(html.parser.HTMLParser):
    """What a page holds that could run or load."""

    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.scripts, self.faults, self.policy, self.ids, self.links = [], [], "", [], []
        self.inside = False

    def handle_starttag(self, tag, attributes):
        known = dict(attributes)
        self.inside = tag == "script"
        if tag == "script":
            self.scripts.append("")
            if known:
                self.faults.append(f"a script with {sorted(known)}")
        if known.get("http-equiv") == "Content-Security-Policy":
            self.policy = known.get("content", "")
        for name, value in attributes:
            if name.startswith("on"):
                self.faults.append(f"<{tag}> runs code: {name}")
            if name == "id":
                self.ids.append(value)
            if name in ("src", "href", "action", "data", "srcset") and not ADDRESS.match(value or ""):
                self.faults.append(f"<{tag} {name}> leads to {value[:60]!r}")
        if tag == "a" and known.get("href", "").startswith("#"):
            self.links.append(known["href"][1:])
        if tag in LOADS and not (tag == "img" and known.get("src", "").startswith("data:")):
            self.faults.append(f"<{tag}> loads something")

    def handle_data(self, data):
        if self.inside:
            self.scripts[-1] += data

    def handle_endtag(self, tag):
        if tag == "script":
            self.inside = False


def of_file(text):
    page = Page()
    page.feed(text)
    page.close()
    faults = page.faults
    if len(page.scripts) != 1:
        faults.append(f"{len(page.scripts)} scripts, not one")
    else:
        digest = base64.b64encode(hashlib.sha256(page.scripts[0].encode()).digest()).decode()
        if f"script-src 'sha256-{digest}'" not in page.policy:
            faults.append(f"the policy does not name the script, whose hash is {digest}")
    for rule in ("default-src 'none'", "img-src data:", "base-uri 'none'", "form-action 'none'"):
        if rule not in page.policy:
            faults.append(f"the policy lacks {rule}")
    twice = sorted({i for i in page.ids if page.ids.count(i) > 1}) if len(set(page.ids)) < len(page.ids) else []
    faults += [f"identifier {i!r} stands twice" for i in twice]
    faults += [f"link to #{i}, which is nowhere" for i in sorted(set(page.links) - set(page.ids))]
    return faults


def chromium():
    named = os.environ.get("RIGBINDER_CHROMIUM")
    names = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
    return named or next(filter(None, map(shutil.which, names)), None)


TARGETS = """() => {
  const small = [];
  for (const e of document.querySelectorAll('.bar a, .bar input, nav a, nav summary, .checks label, .larger, .document a')) {
    const r = e.getBoundingClientRect();
    if (r.width && r.height < 43.5) small.push(`${e.tagName} ${e.textContent.slice(0, 30)}: ${r.height} px`);
  }
  return small.slice(0, 3);
}"""
WIDER = """() => {
  const room = document.documentElement.clientWidth;
  if (document.documentElement.scrollWidth <= room) return [];
  const held = e => { for (; e; e = e.parentElement) if (getComputedStyle(e).overflowX !== 'visible') return true; return false; };
  return [...document.querySelectorAll('main *, header *, nav *, .bar *')]
    .filter(e => e.getBoundingClientRect().right > room + 1 && !held(e.parentElement))
    .slice(0, 3).map(e => `${e.tagName}.${e.className}: ${e.textContent.slice(0, 40)}`).concat('page');
}"""
SMALLEST = """() => [...document.querySelectorAll('.drawing img')].map(e => e.getBoundingClientRect().width)"""


def axe(page, script):
    page.evaluate(script)
    found = page.evaluate(
        "tags => axe.run(document, {runOnly: {type: 'tag', values: tags}, resultTypes: ['violations']})", TAGS)
    bad = [v for v in found["violations"] if v["impact"] in ("serious", "critical")]
    return [f"axe: {v['id']} ({v['impact']}) {len(v['nodes'])} ×, such as {v['nodes'][0]['html'][:120]}" for v in bad]


def search(page):
    """Finds the last heading by keyboard and goes there."""
    heads = page.locator("main h2, main h3")
    if heads.count() == 0:
        return []
    text = heads.last.inner_text()
    word = max(re.findall(r"\w+", text), key=len, default="")
    if len(word) < 3:
        return []
    faults = []
    page.keyboard.press("Tab")
    page.focus("[type=search]")
    page.keyboard.type(text)
    if page.locator("[role=search] li").count() == 0:
        return [f"the search does not find {text!r}"]
    if "place" not in page.locator("[role=status]").inner_text():
        faults.append("the search does not say how many places it found")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    at = page.evaluate("() => { const e = document.activeElement; return [e.tagName, e.innerText, e.getBoundingClientRect().top,"
                       " document.querySelector('.bar').getBoundingClientRect().bottom, innerHeight] }")
    if text.split()[0] not in (at[1] or "") or not at[0].startswith("H"):
        faults.append(f"the search for {text!r} led to {at[:2]}")
    elif not at[3] - 1 <= at[2] < at[4]:
        faults.append(f"what was found stands at {at[2]} px, behind the bar or off the screen")
    page.focus("[type=search]")
    page.fill("[type=search]", "zzqqxx")
    if "Nothing" not in page.locator("[role=status]").inner_text():
        faults.append("the search does not say that it found nothing")
    page.keyboard.press("Escape")
    if page.locator("[role=search] ul").is_visible():
        faults.append("Escape does not close the search")
    return faults


def of_phone(browser, path, script):
    faults = []
    context = browser.new_context(viewport=PHONE, device_scale_factor=2, color_scheme="light", offline=True)
    page = context.new_page()
    page.on("console", lambda m: faults.append(f"console: {m.text[:160]}") if m.type in ("error", "warning") else None)
    page.on("pageerror", lambda e: faults.append(f"script fault: {str(e)[:160]}"))
    own = path.resolve().as_uri()
    page.on("request", lambda r: faults.append(f"asks for {r.url[:80]}")
            if not r.url.startswith((own, "data:")) else None)
    page.goto(own)
    faults += [f"wider than the screen: {w}" for w in page.evaluate(WIDER)]
    faults += [f"too small for a thumb: {t}" for t in page.evaluate(TARGETS)]
    faults += search(page)
    page.goto("about:blank")
    page.goto(own)
    for colours in ("light", "dark"):
        page.emulate_media(color_scheme=colours)
        faults += [f"{colours}: {f}" for f in axe(page, script)]
    if page.locator(".larger").count():
        before = page.evaluate(SMALLEST)[0]
        page.locator(".larger").first.check()
        after = page.evaluate(SMALLEST)[0]
        if after < before * 1.5:
            faults.append(f"a drawing of {before} px grows to {after} px only")
        faults += [f"wider than the screen with a large drawing: {w}" for w in page.evaluate(WIDER)]
    context.close()
    plain = browser.new_context(viewport=PHONE, java_script_enabled=False)
    page = plain.new_page()
    page.goto(own)
    if page.locator("[type=search]").is_visible():
        faults.append("without a script the search stands there and does nothing")
    if not page.locator("main").is_visible():
        faults.append("without a script there is no text")
    plain.close()
    return faults


def main(paths, closed):
    wrong = 0
    for path in paths:
        for fault in of_file(path.read_text(encoding="utf-8")):
            wrong += 1
            print(f"{path.name}: {fault}")
    if closed:
        return wrong
    program = chromium()
    if not program:
        print("skipped: no chromium on the path, so no page was opened")
        return wrong
    import axe_playwright_python
    from playwright.sync_api import sync_playwright
    script = (pathlib.Path(axe_playwright_python.__file__).parent / "axe.min.js").read_text(encoding="utf-8")
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=program, args=["--no-sandbox"])
        for path in paths:
            for fault in of_phone(browser, path, script):
                wrong += 1
                print(f"{path.name}: {fault}")
        browser.close()
    print(f"opened: {len(paths)} pages")
    return wrong


if __name__ == "__main__":
    names = [name for name in sys.argv[1:] if name != "--closed"]
    sys.exit(1 if main([pathlib.Path(name) for name in names], "--closed" in sys.argv) else 0)
