// What the reader set for herself: units, light or dark, names, limits. Kept in this browser.

/** @typedef {'system' | 'light' | 'dark'} ThemeName */
/** @typedef {{ feet: boolean, theme: ThemeName, names: boolean, levelWithin: number, zone: number, zoneWithin: number, rider: boolean }} SettingValues */

const NAME = 'groundline settings';
/** @type {SettingValues} */
const AT_FIRST = { feet: false, theme: 'system', names: true, levelWithin: 0.3, zone: 1.8288, zoneWithin: 0.9144, rider: false };
const systemDark = matchMedia('(prefers-color-scheme: dark)');

class Settings extends EventTarget {
  constructor() {
    super();
    /** @type {SettingValues} */
    this.values = { ...AT_FIRST, ...readKept() };
    systemDark.addEventListener('change', () => this.dispatchEvent(new Event('change')));
    this.#show();
  }

  get feet() { return this.values.feet; }
  get names() { return this.values.names; }
  /** What the coach calls level: metres to either side of the mean. */
  get levelWithin() { return this.values.levelWithin; }
  /** Where take-off and landing should be, metres from the fence, and how far that reaches. */
  get zone() { return this.values.zone; }
  get zoneWithin() { return this.values.zoneWithin; }
  /** Sentences are for the rider instead of the coach. */
  get rider() { return this.values.rider; }
  get theme() { return this.values.theme; }
  get dark() { return this.theme === 'system' ? systemDark.matches : this.theme === 'dark'; }

  /** @param {Partial<SettingValues>} change */
  set(change) {
    this.values = { ...this.values, ...change };
    try {
      localStorage.setItem(NAME, JSON.stringify(this.values));
    } catch {
      // A browser that keeps nothing still shows the change.
    }
    this.#show();
    this.dispatchEvent(new Event('change'));
  }

  #show() {
    document.documentElement.dataset.theme = this.theme;
  }
}

/** @returns {Partial<SettingValues>} */
function readKept() {
  try {
    return JSON.parse(localStorage.getItem(NAME) ?? '{}');
  } catch {
    return {};
  }
}

export const settings = new Settings();
