import type { Verb } from './verb.ts';

/** `import` without what it takes to read models and drawings: that is loaded when it is asked for. */
export const importVerb: Verb = {
  usage: 'import SOURCE --out FLOOR [--storey NAME] [--list] [--onto OLDFLOOR] [--json]',
  purpose: 'Makes a floor of a model (IFC), a drawing (DXF) or an indoor map (GeoJSON), and tells what was guessed.',
  help: `SOURCE is a file .ifc, .ifczip, .dxf or .geojson, several maps, or a folder of maps. Nothing is asked: what
the source does not say is guessed, marked as assumed and told.

Options
  --out FLOOR       Where to write the floor; whole or not at all.
  --storey NAME     Which storey, by its name or number; left out, the one with most rooms.
  --list            Lists the storeys and writes nothing.
  --onto OLDFLOOR   A floor made from an older version: detectors, groups and settings stay, what
                    was corrected by hand is not overwritten.
  --report FILE     Writes the account of what was taken, guessed and left out, as text.
  --json            One JSON document (lacuna-import/1) instead of the account.

Answers
  --unit U          Length of a unit of the drawing: mm, cm, dm, m, in, ft or yd; of a map: m or degrees.
  --ceiling M       Height of ceilings that the source does not state.
  --gap M           Gaps between walls up to this width are closed, 0 to 2 (0.05).
  --rooms WHERE     From drawn outlines, walls, both, or auto: drawn where they cover most (auto).
  --class LAYER=WHAT    What a layer or block of a drawing holds: wall, door, window, desk, ignore …
  --height KIND=M   Top of pieces whose height is not stated: desk, screen, shelving …
  --no-seats        Desks without a chair bring no workplace.
--class and --height may be given several times.

Ends with 0 when the floor is written, 2 when the source cannot be used.

Examples
  lacuna import office.ifc --list
  lacuna import office.ifc --storey "Level 1" --out level-1.json --report level-1.txt
  lacuna import plan.dxf --unit mm --ceiling 2.8 --class A-FURN=desk --out plan.json
  lacuna import office-2.ifc --onto level-1.json --out level-1-new.json`,
  async run(words, output) {
    const { runImport } = await import('./import.ts');
    return runImport(words, output);
  },
};
