//! What is written can be read: contrast as the Web Content Accessibility Guidelines 2.1 ask for at level AA (success
//! criterion 1.4.3:
//! 4.5 for text, 3 for large text; 1.4.11: 3 for what marks the focus).

use super::Page;
use super::browser::{Browser, Screen};

/// Every text on the page with too little contrast to what lies behind it, by the formula of the guidelines
/// ("contrast ratio", "relative luminance"). Words on wood are left out: the drawing chooses their ink by the wood,
/// and has a test of its own.
const TOO_FAINT: &str = r#"(() => {
  const channels = (css) => css.match(/[\d.]+/g).map(Number);
  const linear = (v) => (v /= 255) <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
  const luminance = ([r, g, b]) => 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b);
  const ratio = (a, b) => { const [x, y] = [luminance(a), luminance(b)].sort((p, q) => q - p); return (x + 0.05) / (y + 0.05); };
  const behind = (e) => {
    for (; e; e = e.parentElement) {
      const c = channels(getComputedStyle(e).backgroundColor);
      if (c.length < 4 || c[3] === 1) return c;
    }
    return [255, 255, 255];
  };
  const onWood = 'g.lettering, g.zone-name, a.piece, g.open, g.mark, figure svg, title, style, script';
  const faint = [];
  let looked = 0;
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    const e = texts.currentNode.parentElement;
    if (!texts.currentNode.data.trim() || e.closest(onWood) || e.closest('[hidden]')) continue;
    const style = getComputedStyle(e);
    const isSvg = e instanceof SVGElement;
    const ink = channels(isSvg ? style.fill : style.color);
    const size = parseFloat(style.fontSize), bold = style.fontWeight >= 600;
    const needed = !isSvg && (size >= 24 || (size >= 18.66 && bold)) ? 3 : 4.5;
    const got = ratio(ink, behind(e));
    looked += 1;
    if (got < needed) faint.push(texts.currentNode.data.trim().slice(0, 30) + ': ' + got.toFixed(2));
  }
  const root = getComputedStyle(document.documentElement);
  const named = (name) => { const probe = document.createElement('i'); probe.style.color = root.getPropertyValue(name);
    document.body.append(probe); const c = channels(getComputedStyle(probe).color); probe.remove(); return c; };
  for (const ground of ['--paper', '--band']) {
    for (const ink of ['--ink', '--soft', '--link']) {
      if (ratio(named(ink), named(ground)) < 4.5) faint.push(ink + ' on ' + ground);
    }
    for (const line of ['--ring', '--port', '--starboard']) {
      if (ratio(named(line), named(ground)) < 3) faint.push(line + ' on ' + ground);
    }
  }
  return looked < 400 ? ['only ' + looked + ' texts were looked at'] : faint;
})()"#;

#[test]
#[cfg_attr(no_chromium, ignore = "chromium is missing")]
fn every_text_stands_out_from_its_ground_in_light_and_in_dark() {
    let page = Page::demo();
    let mut browser = Browser::start();
    browser.screen(Screen::Desk);
    for scheme in ["light", "dark"] {
        browser.scheme(scheme);
        // A row that was led to is turned over: dark on light and the other way round.
        browser.open(&page.address());
        browser.ask("location.hash = 'piece-3'");
        browser.ask("document.querySelector('a.piece').focus()");
        let faint = browser.ask(TOO_FAINT);
        assert_eq!(faint, serde_json::json!([]), "{scheme}");
    }
}
