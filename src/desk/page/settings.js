// What the reader set for herself: units, light or dark, names, limits. Kept in this browser.

/** @typedef {'system' | 'light' | 'dark'} ThemeName */
/** @import { Limits } from './wire.d.ts' */
/** @typedef {{ feet: boolean, theme: ThemeName, names: boolean, limits: Limits, rider: boolean }} SettingValues */

const NAME = 'groundline settings';
/** @type {SettingValues} */
const AT_FIRST = {
  feet: false, theme: 'system', names: true, rider: false,
  // Those of the command (`reading::Settings`).
  limits: { level_within_m: 0.3, pace_tolerance_percent: 5, zone_m: 1.8288, landing_zone_m: 1.8288, zone_within_m: 0.9144, added_shorter_m: 0.5, straight_within_m: 0.3, sure_percent: 95 },
};
const systemDark = matchMedia('(prefers-color-scheme: dark)');

class Settings extends EventTarget {
  constructor() {
    super();
    /** @type {SettingValues} */
    const kept = { ...AT_FIRST, ...readKept() };
    this.values = { ...kept, limits: { ...AT_FIRST.limits, ...kept.limits } };
    systemDark.addEventListener('change', () => this.dispatchEvent(new Event('change')));
    this.#show();
  }

  get feet() { return this.values.feet; }
  get names() { return this.values.names; }
  /** What decides in a reading. */
  get limits() { return this.values.limits; }
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
