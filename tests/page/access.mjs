/* SPDX-License-Identifier: GPL-3.0-or-later */
/* For everybody: screen readers, small and large screens, dark and light, touch. */
import fs from 'node:fs';
import {createRequire} from 'node:module';
import {aloud, claim, expect, open, same} from './harness.mjs';

const AXE = fs.readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

for (const colorScheme of ['light', 'dark'])
    for (const width of [360, 1366])
        claim(`axe finds nothing serious, ${colorScheme}, ${width} pixels wide`, async () => {
            const page = await open({colorScheme, viewport: {width, height: 768}, bypassCSP: true});
            await aloud(page);
            await page.evaluate(AXE);
            for (const tab of await page.$$('[role=tab]')) {
                await tab.click();
                const found = await page.evaluate(async () => (await window.axe.run()).violations
                    .filter(one => ['serious', 'critical'].includes(one.impact))
                    .map(one => `${one.id}: ${one.nodes.map(node => node.target).slice(0, 3)}`));
                same(found, [], 'serious faults');
            }
            const wide = await page.evaluate(() => document.documentElement.scrollWidth);
            expect(wide <= width, `the page is ${wide} pixels wide`);
            await page.context().close();
        });

claim('the verdict is said a second after the hand has rested, once, and not while it moves', async () => {
    const page = await open();
    await aloud(page);
    const said = await page.evaluate(async () => {
        const voice = document.getElementById('voice'), slider = window.tipcrest.teach.sliders.opening;
        /* What waits for a second waits for this test, so that a slow machine changes nothing. */
        const waiting = new Map(), {setTimeout, clearTimeout} = window, before = voice.textContent;
        let number = 0;
        window.setTimeout = (call, ms, ...rest) => ms === 1000 ? (waiting.set(--number, call), number) : setTimeout(call, ms, ...rest);
        window.clearTimeout = id => waiting.delete(id) || clearTimeout(id);
        const most = [];
        for (let i = 0; i < 20; i++) {
            slider.take(0.9 - i / 50);
            await new Promise(done => setTimeout(done, 50));
            most.push(waiting.size);
        }
        while (!window.tipcrest.settled || waiting.size === 0)
            await new Promise(done => setTimeout(done, 50));
        const still = voice.textContent === before, calls = [...waiting.values()];
        calls.forEach(call => call());
        return {still, calls: calls.length, most: Math.max(...most), text: voice.textContent, before, role: voice.getAttribute('role')};
    });
    expect(said.still, 'said while the hand moved');
    same([said.calls, said.most], [1, 1], 'sentences that wait for a second');
    expect(said.text !== said.before, 'nothing was said');
    expect(/^(even|mostly even|uneven|not judged): \d\.\d\d mm rms off one line, \d+ of \d+ tips stick out\.$/.test(said.text), said.text);
    same(said.role, 'status', 'role');
    await page.context().close();
});

claim('a finger moves a slider', async () => {
    const page = await open({hasTouch: true, isMobile: true, viewport: {width: 360, height: 740}});
    const input = page.locator('[data-slider=opening] input');
    await input.scrollIntoViewIfNeeded();
    const box = await input.boundingBox();
    await page.touchscreen.tap(box.x + box.width * 0.3, box.y + box.height / 2);
    const opening = await page.evaluate(() => window.tipcrest.teach.set.opening);
    expect(opening > 0.15 && opening < 0.45, `the eye is open by ${opening}`);
    await page.context().close();
});
