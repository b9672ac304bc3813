import assert from 'node:assert/strict';
import { scene, useBrowser, seenByProxy, base } from './browser.mjs';
useBrowser();
for (let i=0;i<3;i++) scene('x'+i, {at:'#/winding'}, async (page) => { console.log(await page.title(), seenByProxy); });
scene('y', {workers:true}, async (page) => { await page.waitForFunction(()=>document.getElementById('offline').textContent); console.log(await page.evaluate(()=>document.getElementById('offline').textContent), seenByProxy) });
