/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Takes the picture of the page that README.md shows: sh tests/page/page.sh picture.mjs FILE */
import {open, start, stop} from './harness.mjs';

await start();
const page = await open({viewport: {width: 1280, height: 740}});
await page.click('[data-preset=equal]');
await page.waitForTimeout(3000);
await page.screenshot({path: process.argv[2]});
await stop();
