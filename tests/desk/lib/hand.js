// A coach's hand: real pointer and keys on the page, each action counted. Frame stepping is free.

/** After what was just done is drawn. */
export const drawn = (page) => page.evaluate(() => new Promise((go) => requestAnimationFrame(() => requestAnimationFrame(go))));

export class Hand {
  constructor(page) {
    this.page = page;
    this.actions = 0;
    this.said = [];
  }

  #count(what) {
    this.actions += 1;
    this.said.push(what);
  }

  async open(url, clip) {
    await this.page.goto(url);
    await this.page.locator('.card a', { hasText: clip }).first().waitFor();
    await this.page.locator(`a[href="#clip/${encodeURIComponent(clip)}"]`).click();
    this.#count(`open ${clip}`);
    await this.page.locator('.stage[data-frame="0"]').waitFor();
  }

  /** Goes to a frame as by stepping; not an action. */
  async frame(n) {
    const slider = this.page.locator('.slider');
    await slider.evaluate((s, to) => { s.value = to; s.dispatchEvent(new Event('input', { bubbles: true })); }, String(n));
    await this.page.locator(`.stage[data-frame="${n}"]`).waitFor({ timeout: 8000 });
  }

  /** Where a point of the frame lies on the screen while the whole frame is seen. */
  async at(x, y, size = { width: 1920, height: 1080 }) {
    const box = await this.page.locator('.stage').boundingBox();
    const scale = Math.min(box.width / size.width, box.height / size.height);
    return { x: box.x + (box.width - size.width * scale) / 2 + x * scale, y: box.y + (box.height - size.height * scale) / 2 + y * scale };
  }

  async click(x, y) {
    const p = await this.at(x, y);
    await this.page.mouse.move(p.x, p.y);
    await this.page.mouse.click(p.x, p.y);
    this.#count('click');
  }

  async key(key) {
    await this.page.keyboard.press(key);
    this.#count(`key ${key}`);
  }

  async type(label, text, then) {
    await this.page.getByRole('textbox', { name: label, exact: true }).first().fill(text);
    this.#count(`type ${label}`);
    if (then) await this.page.keyboard.press(then);
  }

  async saved() {
    // The act shows as being saved from the next drawn picture on.
    await drawn(this.page);
    await this.page.locator('.saved-state[data-state="saved"]').waitFor();
  }
}
