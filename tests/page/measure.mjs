/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * How fast and how large the page is: sh tests/page/page.sh measure.mjs. Prints figures and is no
 * test; what else the machine does counts in them, so the least of each is printed beside the median.
 */
import fs from 'node:fs';
import os from 'node:os';
import {open, ready, start, stop} from './harness.mjs';

const FRAMES = 60, THROTTLE = 4;

function say(what, values, unit = 'ms') {
    const rising = [...values].sort((a, b) => a - b);
    console.log(`${what}: least ${rising[0].toFixed(1)}, median ${rising[rising.length >> 1].toFixed(1)} ${unit}`);
}

/* Drags the lid of an eye with 100 lashes; of each frame the script with its layout, and what of it
 * the library took. */
const drag = page => page.evaluate(async frames => {
    const {teach} = window.tipcrest, {engine} = teach, exports = engine.x;
    const frame = [], library = [];
    let inside = 0;
    teach.sliders.count.take(100);
    engine.x = Object.fromEntries(Object.entries(exports).map(([name, one]) => [name, typeof one !== 'function' ? one : (...all) => {
        const begun = performance.now();
        try {
            return one(...all);
        } finally {
            inside += performance.now() - begun;
        }
    }]));
    for (let i = 0; i < frames; i++) {
        await new Promise(done => requestAnimationFrame(done));
        inside = 0;
        const begun = performance.now();
        teach.sliders.opening.take(0.995 - i / 100);
        document.body.getBoundingClientRect();
        frame.push(performance.now() - begun);
        library.push(inside);
    }
    engine.x = exports;
    return {frame, library};
}, FRAMES);

/* What Chromium counts of the page's main thread so far, s of its processor: script, layout, style. */
async function spent(client) {
    const {metrics} = await client.send('Performance.getMetrics');
    return metrics.filter(one => /^(Script|Layout|RecalcStyle)Duration$/.test(one.name)).reduce((sum, one) => sum + one.value, 0);
}

async function measured(page, client, what) {
    const before = await spent(client), {frame, library} = await drag(page);
    const processor = 1000 * (await spent(client) - before) / FRAMES;
    say(what, frame);
    console.log(`  by the processor's time, mean: ${processor.toFixed(1)} ms`);
    return library;
}

/* The worker is there and warm after the first plan. */
const plan = page => page.evaluate(async () => {
    const {consult} = window.tipcrest, times = [];
    window.tipcrest.go('consult');
    for (let i = 0; i < 6; i++) {
        while (consult.done === null)
            await new Promise(done => setTimeout(done, 5));
        const begun = performance.now();
        consult.planner.ask({text: textOf(consult.asked), samples: SAMPLES});
        consult.done = null;
        while (consult.done === null)
            await new Promise(done => setTimeout(done, 5));
        times.push(performance.now() - begun);
    }
    return times;
});

await start();
console.log(`${os.cpus()[0].model}, load ${os.loadavg()[0].toFixed(1)} on ${os.cpus().length}`);
console.log(`page.html: ${fs.statSync(process.env.PAGE).size / 1000} kB`);
const page = await open(), client = await page.context().newCDPSession(page), first = [], work = [];
await client.send('Performance.enable', {timeDomain: 'threadTicks'});
for (let i = 0; i < 5; i++) {
    await page.reload();
    await ready(page);
    first.push(await page.evaluate(() => performance.getEntriesByName('first-picture')[0].startTime));
    work.push(1000 * await spent(client));
}
say('first picture', first);
say("  by the processor's time, until it can be asked", work);
await drag(page); /* once, until it is compiled */
say('  of it the library', await measured(page, client, 'a frame while dragging, 100 lashes, script and layout'));
await client.send('Emulation.setCPUThrottlingRate', {rate: THROTTLE});
await measured(page, client, `a frame with the processor throttled ${THROTTLE} times`);
await client.send('Emulation.setCPUThrottlingRate', {rate: 1});
const plans = await plan(page);
console.log(`a plan of 200 samples, the first: ${plans[0].toFixed(0)} ms`);
say('the next ones', plans.slice(1));
await stop();
