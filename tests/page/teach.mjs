/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Teach: its figures are those of the command, its sliders obey, and it keeps to itself. */
import fs from 'node:fs';
import {claim, expect, open, put, random, report, rested, same, saved, taught} from './harness.mjs';
import {compareAll, compareLesson, compareWords, said, shown, written} from './figures.mjs';

claim('the page starts from disk, asks for nothing else and complains of nothing', async () => {
    const page = await open({offline: true});
    await rested(page);
    same(page.asked.filter(url => !url.startsWith('file:')), [], 'requests');
    same(page.asked.length, 1, 'files read');
    same(page.complaints, [], 'complaints');
    const first = await page.evaluate(() => performance.getEntriesByName('first-picture')[0].startTime);
    await page.context().close();
    return `first picture after ${first.toFixed(0)} ms`;
});

claim('the page is one file below 300 kB', async () => {
    const {size} = fs.statSync(process.env.PAGE);
    expect(size < 300000, `${size} bytes`);
    return `${size} bytes`;
});

claim('the browser lets nothing leave the page', async () => {
    const page = await open();
    const failed = await page.evaluate(async () => {
        const tries = [() => fetch('https://example.org/'), () => new Promise((go, stop) => {
            const image = new Image();
            image.onload = go;
            image.onerror = () => stop(new Error('blocked'));
            image.src = 'https://example.org/a.png';
        }), () => new Function('return 1')()];
        const results = [];
        for (const one of tries)
            results.push(await Promise.resolve().then(one).then(() => 'done', () => 'blocked'));
        return results;
    });
    same(failed, ['blocked', 'blocked', 'blocked'], 'fetch, image, script from text');
    await page.context().close();
});

/* The states are drawn over all that the sliders reach, and refused ones stay as they were. */
async function drawState(page, draw) {
    await page.evaluate(numbers => {
        const teach = window.tipcrest.teach;
        let k = 0;
        const next = () => numbers[k++];
        document.querySelectorAll('[data-preset]')[Math.floor(4 * next())].click();
        for (const slider of Object.values(teach.sliders))
            if (next() < 0.7)
                slider.take(slider.from + next() * (slider.to - slider.from));
        for (const choice of [...teach.places, teach.curl]) {
            choice.select.selectedIndex = Math.floor(next() * choice.select.options.length);
            choice.select.dispatchEvent(new Event('change'));
        }
        if (next() < 0.5)
            teach.young.input.click();
    }, Array.from({length: 60}, draw));
    await rested(page);
}

claim('in 50 random states every figure and verdict is that of tipcrest check on the saved file', async () => {
    const page = await open(), draw = random(14);
    let figures = 0;
    for (let i = 0; i < 50; i++) {
        await drawState(page, draw);
        const files = await saved(page, '[data-file=save]'), checked = report('check', files['set.json']);
        figures += compareAll(await shown(page, '#teach'), checked, `state ${i}`);
        await compareWords(page, checked.eyes[0], `state ${i}`);
    }
    expect(figures > 50 * 10, `${figures} figures are too few`);
    same(page.complaints, [], 'complaints');
    await page.context().close();
    return `${figures} figures`;
});

/* step reports the curves as seen from the front with the eye open, and other views one distance at a time. */
claim('the lesson, curves, dot and sentence, is that of tipcrest step on the saved file', async () => {
    const page = await open(), draw = random(15);
    let points = 0;
    for (let i = 0; i < 8; i++) {
        await drawState(page, draw);
        const closed = i % 4 === 3;
        await page.evaluate(closed => {
            window.tipcrest.teach.sliders.opening.take(closed ? 0 : 1);
            window.tipcrest.teach.sliders.viewer.take(closed ? 60 : 0);
        }, closed);
        await taught(page);
        const file = (await saved(page, '[data-file=save]'))['set.json'], what = `state ${i}`;
        const step = report('step', file), [eye] = report('check', file).eyes, heights = step.layer_height_mm;
        compareAll((await shown(page, '#teach .lesson')), {eyes: [eye]}, what, step);
        const never = await page.$eval('#teach .pays', one => /never/.test(one.textContent));
        same(never, step.lesson.pays_from_mm.own.one_less === null, `${what}: it never pays`);
        const rows = closed ? [0, 0.8].map(apart => ({apart_mm: apart,
            ...report('step', file, '--apart', String(apart)).lesson.viewer.closed.find(one => one.viewer_deg === 60)})) : step.lesson.apart.own;
        points += await compareLesson(page, rows, {apart_mm: (heights.top - heights.bottom) / 2, rms_mm: eye.fitted.rms_mm}, what);
    }
    expect(points > 6 * 20, `${points} points are too few`);
    await page.context().close();
    return `${points} points`;
});

/*
 * What a tray's one length leaves over at the pupil, by step, is how far a tip lies above that of the
 * bottom layer: of mean lashes, from the front, with the eye open.
 */
claim('how far the tips of the profile are apart is what tipcrest step reports for their lengths', async () => {
    const page = await open(), draw = random(16);
    for (let i = 0; i < 12; i++) {
        await drawState(page, draw);
        await page.evaluate(() => window.tipcrest.teach.sliders.opening.take(1));
        await rested(page);
        const [figure] = (await shown(page, '#teach')).filter(one => one.name === 'profile.tips_apart_mm');
        const set = JSON.parse(fs.readFileSync((await saved(page, '[data-file=save]'))['set.json'], 'utf8')), [eye] = set.eyes;
        const zone = eye.map.find(one => 0.5 < one.to), lengths = ['bottom', 'middle', 'top'].map((layer, k) => zone[layer]?.length_mm ?? zone.length_mm - k * set.layering.step_mm);
        const heights = [0];
        for (const [k, length] of lengths.slice(1).entries()) {
            eye.map = [{to: 1, length_mm: length, curl: zone.curl}];
            Object.assign(set, {tray: {lengths_mm: [length]}});
            set.layering.step_mm = 0;
            const {pupil} = report('step', put('one.json', JSON.stringify(set)), '--length', String(lengths[0]), '--curl', zone.curl);
            heights.push(pupil.left_over_mm[['middle', 'top'][k]]);
        }
        const apart = Math.max(...heights) - Math.min(...heights);
        expect(Math.abs(figure.value - apart) < 1e-9, `state ${i}, ${lengths}: ${figure.value}, by step ${apart}`);
        same(figure.text, written(apart, 2), `state ${i}`);
    }
    await page.context().close();
});

claim('what is said aloud has the figures and the verdict of tipcrest check', async () => {
    const page = await open(), draw = random(17);
    for (let i = 0; i < 5; i++) {
        await drawState(page, draw);
        const [eye] = report('check', (await saved(page, '[data-file=save]'))['set.json']).eyes, tips = eye.lashes.filter(lash => lash.extension !== null);
        const text = `${said(eye)}: ${written(eye.fitted.rms_mm, 2)} mm rms off one line, ${tips.filter(lash => lash.staggered).length} of ${tips.length} tips stick out.`;
        await page.waitForFunction(text => document.getElementById('voice').textContent === text, text)
            .catch(async () => same(await page.textContent('#voice'), text, `state ${i}`));
    }
    await page.context().close();
});

/* The viewer's distance by model.md, section 6: the tolerance spans 3 minutes of arc. */
claim('controls show what the library reads of a set, its defaults too', async () => {
    const page = await open();
    const at = () => page.evaluate(() => {
        const {teach} = window.tipcrest, all = Object.entries(teach.sliders).map(([name, slider]) => [name, slider.value]);
        return {...Object.fromEntries(all), young: teach.young.input.checked, places: teach.places.map(one => one.select.value)};
    });
    const show = set => page.evaluate(set => {
        document.querySelector('[data-file=text]').click();
        document.querySelector('textarea').value = JSON.stringify(set);
        document.querySelector('dialog .bar button').click();
    }, set);
    const bare = {tipcrest: 1, eyes: [{side: 'left', lashes: {describe: {}}, map: [{to: 0.4, length_mm: 9, curl: 'C'}, {to: 1, length_mm: 12, curl: 'C'}]}]};
    await show(bare);
    const seen = await at();
    expect(Math.abs(seen.seen - 0.5 / Math.tan(Math.PI / 3600)) < 1e-6, `seen from ${seen.seen} mm`);
    same({...seen, seen: 0}, {opening: 1, viewer: 0, bottom: 12, middle: 11, top: 10, apart: 1, variation: 1, count: 96, seen: 0,
        young: true, places: ['top', 'top', 'top']}, 'defaults');
    await show({...bare, opening: 0.25, viewer_deg: 12.5, layering: {step_mm: 0.5, placement: {top: 'underside'}}, tray: 'any', line: {seen_from_mm: 400},
        eyes: [{...bare.eyes[0], lashes: {describe: {count: 50, gap_mm: 0.4, height_sd_mm: 0.05, phases: 'none'}}}]});
    same(await at(), {opening: 0.25, viewer: 12.5, bottom: 12, middle: 11.5, top: 11, apart: 0.4, variation: 0.5, count: 50, seen: 400,
        young: false, places: ['top', 'top', 'underside']}, 'given values');
    await page.evaluate(() => window.tipcrest.teach.sliders.top.take(7.25)); /* no step of the rule, and of no tray */
    same((await at()).top, 7.5, 'a length of the grid');
    await show({...bare, eyes: [{...bare.eyes[0], map: [{to: 1, length_mm: 9, curl: 'C'}]}], tray: {C: {0.15: [5, 7, 9, 10, 12]}}, layering: {step_mm: 2}});
    same((await at()).top, 5, 'the rule');
    await page.evaluate(() => window.tipcrest.teach.sliders.top.take(7.4));
    same([await page.isHidden('#teach .problem'), (await at()).top], [true, 7], 'a length of a tray by kinds');
    await page.context().close();
});

claim('every slider moves by keyboard: a twentieth, finer with Shift, coarser by Page, to its ends', async () => {
    const page = await open();
    const names = await page.$$eval('#teach [data-slider]', all => all.map(one => one.dataset.slider));
    expect(names.length >= 9, `${names.length} sliders`);
    const state = name => page.evaluate(slider => {
        const s = window.tipcrest.teach.sliders[slider];
        return {value: s.value, from: s.from, to: s.to, text: s.input.getAttribute('aria-valuetext'), grid: s.grid};
    }, name);
    for (const name of names) {
        await page.click('[data-preset=equal]');
        await page.focus(`#teach [data-slider=${name}] input`);
        await page.keyboard.press('Home');
        const low = await state(name);
        same(low.value, low.from, `${name} at Home`);
        await page.keyboard.press('ArrowRight');
        const one = await state(name), size = (low.to - low.from) / 20;
        const slack = Array.isArray(low.grid) ? 0.5 : low.grid;
        expect(Math.abs(one.value - low.value - size) <= slack, `${name}: ArrowRight moved it by ${one.value - low.value}`);
        await page.keyboard.press('Shift+ArrowRight');
        const fine = await state(name);
        expect(fine.value > one.value && fine.value - one.value <= Math.max(size / 2, slack), `${name}: Shift moved it by ${fine.value - one.value}`);
        await page.keyboard.press('PageUp');
        const far = await state(name);
        expect(far.value - fine.value >= 3 * size - slack, `${name}: PageUp moved it by ${far.value - fine.value}`);
        await page.keyboard.press('ArrowLeft');
        expect((await state(name)).value < far.value, `${name}: ArrowLeft`);
        await page.keyboard.press('End');
        const high = await state(name);
        same(high.value, high.to, `${name} at End`);
        expect(/%|°|mm|cm|lashes/.test(high.text), `${name}: no unit in "${high.text}"`);
    }
    same(page.complaints, [], 'complaints');
    await page.context().close();
});

claim('the lid follows the mouse', async () => {
    const page = await open();
    await page.click('[data-preset=rule]');
    const box = await page.locator('.front .picture').boundingBox();
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2 + 5 / 33 * box.height, {steps: 5});
    await page.mouse.up();
    await page.mouse.move(box.x, box.y);
    const opening = await page.evaluate(() => window.tipcrest.teach.set.opening);
    expect(Math.abs(opening - 0.5) < 0.02, `5 of 10 mm leave it open by ${opening}`);
    await page.context().close();
});

claim('a blink plays from closed to open and ends open', async () => {
    const page = await open();
    const seen = await page.evaluate(async () => {
        const teach = window.tipcrest.teach, openings = [];
        teach.play.click();
        while (teach.playing) {
            await new Promise(done => requestAnimationFrame(done));
            openings.push(teach.set.opening);
        }
        return openings;
    });
    expect(Math.min(...seen) < 0.2, `it never closes: ${Math.min(...seen)}`);
    same(seen.at(-1), 1, 'the last opening');
    await page.context().close();
});

/* Changes as a slider makes them, each twentieth by the slider itself, and as many refused sets. */
const change = (page, from, to) => page.evaluate(async ([from, to]) => {
    const {engine, teach} = window.tipcrest, set = structuredClone(teach.set);
    for (let i = from; i < to; i++) {
        set.opening = (i % 97) / 97;
        set.eyes[0].lashes.describe.count = 60 + i % 40;
        if (i % 20 === 0)
            teach.sliders.count.take(60 + i / 20 % 40);
        engine.read(0, JSON.stringify(set), 'set.json');
        engine.lashes(0, 0);
        engine.profile(0, 0, 0.5);
        engine.read(0, '{"tipcrest": 1, "eyes": [', 'bad.json');
        if (i % 500 === 0)
            await new Promise(done => setTimeout(done));
    }
    teach.sliders.count.take(90);
    teach.sliders.count.take(91);
}, [from, to]);

claim('10 000 changes take no more memory than the first 500', async () => {
    const page = await open(), client = await page.context().newCDPSession(page);
    const held = async () => {
        await taught(page);
        await client.send('HeapProfiler.collectGarbage');
        const {nodes, jsEventListeners} = await client.send('Memory.getDOMCounters');
        const {usedSize} = await client.send('Runtime.getHeapUsage');
        return {library: await page.evaluate(() => window.tipcrest.engine.x.memory.buffer.byteLength), nodes, jsEventListeners, usedSize};
    };
    await change(page, 0, 500);
    const before = await held();
    await change(page, 500, 10000);
    const after = await held();
    same(after.library, before.library, 'bytes of the library');
    /* 475 of the 9500 changes went through the page: even one thing that each of them left behind would show. */
    for (const [what, slack] of [['nodes', 200], ['jsEventListeners', 50], ['usedSize', 1e6]])
        expect(after[what] - before[what] < slack, `${what}: ${before[what]}, then ${after[what]}`);
    await page.context().close();
    return `${before.library / 1000} kB and ${(before.usedSize / 1000).toFixed(0)} kB of script`;
});

/* No limit is asserted: a machine may be slow. What it took is printed. */
claim('dragging with 100 lashes draws each change', async () => {
    const page = await open();
    const client = await page.context().newCDPSession(page);
    const drag = () => page.evaluate(async () => {
        const teach = window.tipcrest.teach, times = [], library = [];
        teach.sliders.count.take(100);
        const read = teach.engine.read.bind(teach.engine);
        teach.engine.read = (...all) => {
            const start = performance.now(), result = read(...all);
            library.push(performance.now() - start);
            return result;
        };
        for (let i = 0; i < 60; i++) {
            await new Promise(done => requestAnimationFrame(done));
            const start = performance.now();
            teach.sliders.opening.take(0.995 - i / 100);
            document.body.getBoundingClientRect();
            times.push(performance.now() - start);
        }
        teach.engine.read = read;
        const middle = all => all.sort((a, b) => a - b)[Math.floor(all.length / 2)];
        return {frame: middle(times), library: middle(library), opening: teach.set.opening};
    });
    const plain = await drag();
    await client.send('Emulation.setCPUThrottlingRate', {rate: 4});
    const slow = await drag();
    same(plain.opening, 0.405, 'the last opening');
    await page.context().close();
    return `script and layout of a change ${plain.frame.toFixed(1)} ms, of it the library ${plain.library.toFixed(1)}; throttled fourfold ${slow.frame.toFixed(1)} ms`;
});
