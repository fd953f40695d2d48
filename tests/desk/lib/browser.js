// Starts Chromium quietly, and the mock when no DESK_URL names a real desk.

import { spawn } from 'node:child_process';
import { mkdtempSync, mkdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';

const HERE = fileURLToPath(new URL('..', import.meta.url));
export const OUT = process.env.DESK_OUT ?? join(HERE, 'out');
mkdirSync(OUT, { recursive: true });

export const launch = () => chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--headless=new', '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'],
});

/** The mock as a process of its own, so that it can be killed like the program. */
export class Mock {
  constructor(port = 8200 + (process.pid % 700)) {
    this.port = port;
    this.state = mkdtempSync(join(tmpdir(), 'desk-mock-'));
    this.url = `http://127.0.0.1:${port}/`;
  }

  start() {
    const mock = started(process.execPath, [join(HERE, 'mock/serve.js'), '--port', String(this.port), '--state', this.state]);
    this.process = mock.child;
    return mock.address;
  }

  /** At once, as when the power goes. */
  kill() {
    return killed(this.process);
  }
}

/** A process that prints the address it is reached at. */
function started(command, args) {
  const child = spawn(command, args, { stdio: ['ignore', 'pipe', 'inherit'] });
  const address = new Promise((resolve, reject) => {
    let said = '';
    child.stdout.on('data', (part) => {
      said += part;
      // The real program may first name another desk that has the folder open.
      const url = (/http:\S+key=\S+/.exec(said) ?? /^http:\S+/.exec(said))?.[0];
      if (url) resolve(url);
    });
    child.once('exit', (code) => reject(new Error(`${command} ended: ${code}\n${said}`)));
  });
  return { child, address };
}

async function killed(child) {
  child.removeAllListeners('exit');
  const gone = new Promise((resolve) => child.once('exit', resolve));
  child.kill('SIGKILL');
  await gone;
}

/** The real program, started by a command. With DESK_FRONT the page of the source folder is shown. */
export class Program {
  constructor(command) {
    this.command = command;
    this.url = '';
  }

  async start() {
    const desk = started('sh', ['-c', `exec ${this.command}`]);
    this.children = [desk.child];
    this.url = await desk.address;
    if (!process.env.DESK_FRONT) return;
    const front = started(process.execPath, [join(HERE, 'mock/front.js'), '--desk', this.url, '--port', process.env.DESK_FRONT]);
    this.children.push(front.child);
    this.url = await front.address;
  }

  async kill() {
    for (const child of this.children) await killed(child);
  }
}

/** A desk to test on: the one that DESK_URL names, or a mock of its own. */
export async function desk() {
  if (process.env.DESK_URL) return { url: process.env.DESK_URL, clip: process.env.DESK_CLIP ?? 'schooling.mp4', mock: null, end: async () => {} };
  const mock = new Mock();
  await mock.start();
  return { url: mock.url, clip: 'schooling.mp4', mock, end: () => mock.kill() };
}

/** A page that fails the test on any error of its own. */
export async function openPage(browser, options = {}) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 720 }, ...options });
  const page = await context.newPage();
  page.complaints = [];
  page.on('pageerror', (e) => page.complaints.push(String(e.stack ?? e)));
  page.on('console', (m) => { if (m.type() === 'error' && !/Failed to load resource|ERR_CONNECTION/.test(m.text())) page.complaints.push(m.text()); });
  return page;
}

/** Tests one after another; says what failed and with what. */
export async function run(tests) {
  let failed = 0;
  const only = process.argv[2];
  for (const [name, test] of Object.entries(tests)) {
    if (only && !name.includes(only)) continue;
    const began = Date.now();
    try {
      await test();
      console.log(`ok    ${name} (${Date.now() - began} ms)`);
    } catch (error) {
      failed += 1;
      console.log(`FAIL  ${name}\n${error.stack}`);
    }
  }
  if (failed) process.exitCode = 1;
}
