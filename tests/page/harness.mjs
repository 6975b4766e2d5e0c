/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the tests of the page share: a browser, the command to compare with, claims as TAP. */
import {execFileSync, spawnSync} from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import {chromium} from 'playwright-core';

export const work = process.env.WORK;
const url = 'file://' + process.env.PAGE;
let browser;

export async function start() {
    browser = await chromium.launch({executablePath: process.env.CHROMIUM, args: ['--no-sandbox', '--disable-gpu',
        '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync']});
}
export const stop = () => browser.close();

/* A fresh page from disk; what it asks for and complains of is kept. */
export async function open(options = {}) {
    const context = await browser.newContext({viewport: {width: 1366, height: 768}, acceptDownloads: true, ...options});
    /* Only against hanging. */
    context.setDefaultTimeout(300000);
    context.setDefaultNavigationTimeout(300000);
    const page = await context.newPage();
    page.asked = [];
    page.complaints = [];
    page.on('request', request => page.asked.push(request.url()));
    page.on('pageerror', error => page.complaints.push(String(error)));
    page.on('console', message => message.type() === 'error' && page.complaints.push(message.text()));
    await page.goto(url);
    await page.waitForFunction(() => window.tipcrest !== undefined);
    return page;
}
/* When all is done that waits for the hand to rest, or for a file or a plan; and the lesson too. */
export const rested = page => page.waitForFunction(() => window.tipcrest.settled);
export const taught = page => page.waitForFunction(() => window.tipcrest.settled && !window.tipcrest.teach.later);
/* When the live region has something to say; what it said before is taken away by hush. */
export const hush = page => page.evaluate(() => { document.getElementById('voice').textContent = ''; });
export const aloud = page => page.waitForFunction(() => document.getElementById('voice').textContent !== '');
export const ready = page => page.waitForFunction(() => window.tipcrest !== undefined);

/* ---- The command --------------------------------------------------------------------------- */

export function report(command, file, ...options) {
    const out = execFileSync(process.env.TIPCREST, [command, path.basename(file), '--json', '-', ...options],
        {cwd: path.dirname(file), maxBuffer: 1e9, encoding: 'utf8'});
    return JSON.parse(out);
}

/* What the command says against a file, without its own name in front; null if it takes it. */
export function refusal(file) {
    const run = spawnSync(process.env.TIPCREST, ['check', path.basename(file)], {cwd: path.dirname(file), encoding: 'utf8'});
    return run.status === 0 ? null : run.stderr.split('\n')[0].replace(/^tipcrest: /, '');
}

/* Presses what saves and returns the paths of the files by name, in a folder of their own. */
let folders = 0;
export async function saved(page, selector, count = 1) {
    const folder = path.join(work, 'saved-' + ++folders);
    fs.mkdirSync(folder);
    const downloads = [];
    const listen = download => downloads.push(download);
    page.on('download', listen);
    await page.click(selector);
    while (downloads.length < count)
        await page.waitForTimeout(20);
    page.off('download', listen);
    const files = {};
    for (const download of downloads) {
        const name = download.suggestedFilename();
        files[name] = path.join(folder, name);
        await download.saveAs(files[name]);
    }
    return files;
}

export function put(name, content) {
    const file = path.join(work, name);
    fs.writeFileSync(file, content);
    return file;
}

export async function give(page, ...files) {
    await page.setInputFiles('input[type=file]', files);
    await rested(page);
}

/* ---- Claims -------------------------------------------------------------------------------- */

const claims = [];
export const claim = (name, run) => claims.push({name, run});

export function expect(holds, text) {
    if (!holds)
        throw new Error(text);
}
export const same = (got, expected, what) =>
    expect(Object.is(got, expected) || JSON.stringify(got) === JSON.stringify(expected),
        `${what}: got ${JSON.stringify(got)}, expected ${JSON.stringify(expected)}`);

/* All of them, or those whose names have the text ONLY. */
export async function run() {
    const chosen = claims.filter(one => one.name.includes(process.env.ONLY ?? ''));
    console.log(`1..${chosen.length}`);
    let number = 0;
    for (const {name, run: work} of chosen) {
        number++;
        const begun = Date.now();
        try {
            const remark = await work();
            console.log(`ok ${number} - ${name}${remark?.skip ? ' # SKIP ' + remark.skip : ''}`);
            console.log(`# ${((Date.now() - begun) / 1000).toFixed(1)} s${typeof remark === 'string' ? ', ' + remark : ''}`);
        } catch (error) {
            console.log(`not ok ${number} - ${name}\n# ${String(error.stack ?? error).split('\n').join('\n# ')}`);
            process.exitCode = 1;
        }
    }
}

/* Random numbers that are the same in every run (mulberry32, Tommy Ettinger, public domain). */
export function random(seed) {
    return () => {
        seed = seed + 0x6D2B79F5 | 0;
        let t = Math.imul(seed ^ seed >>> 15, 1 | seed);
        t = t + Math.imul(t ^ t >>> 7, 61 | t) ^ t;
        return ((t ^ t >>> 14) >>> 0) / 4294967296;
    };
}
