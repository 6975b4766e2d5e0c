/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Takes pictures of the page to look at, and the printed sheet: sh tests/page/page.sh look.mjs FOLDER
 * Widths of a telephone, a laptop and a projector, light and dark, in colour and in grey.
 */
import fs from 'node:fs';
import path from 'node:path';
import {open, taught, start, stop} from './harness.mjs';

const folder = process.argv[2], file = name => path.join(folder, name);
fs.mkdirSync(folder, {recursive: true});
await start();
for (const [width, height] of [[360, 740], [1280, 720], [1920, 1080]])
    for (const colorScheme of ['light', 'dark']) {
        const page = await open({colorScheme, viewport: {width, height}});
        const client = await page.context().newCDPSession(page);
        for (const tab of ['teach', 'consult']) {
            await page.click('#tab-' + tab);
            await taught(page);
            for (const type of ['none', 'achromatopsia']) {
                await client.send('Emulation.setEmulatedVisionDeficiency', {type});
                const name = [tab, width, colorScheme, ...(type === 'none' ? [] : ['grey'])].join('-');
                await page.screenshot({path: file(name + '.png'), fullPage: true});
            }
        }
        if (width === 1280 && colorScheme === 'light')
            await page.pdf({path: file('sheet.pdf'), preferCSSPageSize: true, printBackground: true});
        await page.context().close();
    }
await stop();
