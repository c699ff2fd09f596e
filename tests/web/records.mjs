// What the browser keeps of a job, read back as its records.

/// Of all jobs in that database, oldest first.
export async function records_of(page, base = 'kickplate') {
  return page.evaluate(async (name) => {
    const known = await indexedDB.databases();
    if (!known.some((one) => one.name === name)) return [];
    const db = await new Promise((go, no) => {
      const opening = indexedDB.open(name);
      opening.onsuccess = () => go(opening.result);
      opening.onerror = () => no(opening.error);
    });
    const all = await new Promise((go) => {
      const asking = db.transaction('lines').objectStore('lines').getAll();
      asking.onsuccess = () => go(asking.result);
    });
    db.close();
    // Behind a record's line stand its parts: what is personal goes back to where it was.
    return all.map((bytes) => {
      const [record, ...parts] = new TextDecoder().decode(bytes).split('\n').map((line) => JSON.parse(line));
      for (const part of parts.filter((one) => one.whose !== 'people')) {
        for (const [pointer, value] of Object.entries(part.words)) {
          const path = pointer.split('/').slice(1);
          path.slice(0, -1).reduce((at, name) => at[name], record.data)[path.at(-1)] = value;
        }
      }
      return record;
    });
  }, base);
}

/// Steps that put hands into the machine: all but the door, which is moved by its handle.
export function hands_in(records) {
  return records.filter((one) => one.kind === 'step-done' && one.data.act !== 'touch-outside');
}
