import { escapedMarkup as safe } from './safe-text.ts';

/** Parts of a WordprocessingML document (ECMA-376) that are the same for every report, or nearly so. */

const HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';
const MAIN = 'http://schemas.openxmlformats.org/wordprocessingml/2006/main';
const OFFICE = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
const PACKAGE = 'http://schemas.openxmlformats.org/package/2006';

export const wordPart = (element: string, body: string): string =>
  `${HEAD}<w:${element} xmlns:w="${MAIN}" xmlns:r="${OFFICE}">${body}</w:${element}>`;

const WORD = 'application/vnd.openxmlformats-officedocument.wordprocessingml';

export const contentTypes = (): string =>
  `${HEAD}<Types xmlns="${PACKAGE}/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/word/document.xml" ContentType="${WORD}.document.main+xml"/><Override PartName="/word/styles.xml" ContentType="${WORD}.styles+xml"/><Override PartName="/word/numbering.xml" ContentType="${WORD}.numbering+xml"/><Override PartName="/word/settings.xml" ContentType="${WORD}.settings+xml"/><Override PartName="/word/footnotes.xml" ContentType="${WORD}.footnotes+xml"/><Override PartName="/word/endnotes.xml" ContentType="${WORD}.endnotes+xml"/><Override PartName="/docProps/core.xml" ContentType="application/vnd.openxmlformats-package.core-properties+xml"/></Types>`;

export const packageRelations = (): string =>
  relations([
    [`${OFFICE}/officeDocument`, 'word/document.xml'],
    [`${PACKAGE}/relationships/metadata/core-properties`, 'docProps/core.xml'],
  ]);

export const documentRelations = (): string =>
  relations(
    ['styles', 'numbering', 'settings', 'footnotes', 'endnotes'].map((part) => [`${OFFICE}/${part}`, `${part}.xml`]),
  );

const relations = (list: readonly (readonly [type: string, target: string])[]): string =>
  `${HEAD}<Relationships xmlns="${PACKAGE}/relationships">${list
    .map(([type, target], place) => `<Relationship Id="rId${place + 1}" Type="${type}" Target="${target}"/>`)
    .join('')}</Relationships>`;

/** @param date the day of the ledger's act; the clock is not asked. */
export const coreProperties = (title: string, language: string, date: string): string =>
  `${HEAD}<cp:coreProperties xmlns:cp="${PACKAGE}/metadata/core-properties" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:dcterms="http://purl.org/dc/terms/" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance"><dc:title>${safe(title)}</dc:title><dc:creator>heldby</dc:creator><dc:language>${safe(language)}</dc:language>${
    /^\d{4}-\d\d-\d\d$/.test(date)
      ? `<dcterms:created xsi:type="dcterms:W3CDTF">${date}T00:00:00Z</dcterms:created><dcterms:modified xsi:type="dcterms:W3CDTF">${date}T00:00:00Z</dcterms:modified>`
      : ''
  }</cp:coreProperties>`;

export const settings = (): string =>
  wordPart(
    'settings',
    '<w:zoom w:percent="100"/><w:footnotePr><w:footnote w:id="-1"/><w:footnote w:id="0"/></w:footnotePr><w:endnotePr><w:endnote w:id="-1"/><w:endnote w:id="0"/></w:endnotePr><w:compat><w:compatSetting w:name="compatibilityMode" w:uri="http://schemas.microsoft.com/office/word" w:val="15"/></w:compat>',
  );

/** Half points. */
const style = (
  id: string,
  name: string,
  { size, before = 0, after = 60, bold = false, keep = false, indent = 0, colour = '' }: StyleShape,
): string =>
  `<w:style w:type="paragraph" w:styleId="${id}"><w:name w:val="${name}"/>${id === 'Normal' ? '' : '<w:basedOn w:val="Normal"/>'}<w:qFormat/><w:pPr>${keep ? '<w:keepNext/>' : ''}<w:spacing w:before="${before}" w:after="${after}"/>${indent > 0 ? `<w:ind w:left="${indent}" w:hanging="${indent}"/>` : ''}${HEADING_LEVEL[id] === undefined ? '' : `<w:outlineLvl w:val="${HEADING_LEVEL[id]}"/>`}</w:pPr><w:rPr>${bold ? '<w:b/>' : ''}${colour === '' ? '' : `<w:color w:val="${colour}"/>`}<w:sz w:val="${size}"/><w:szCs w:val="${size}"/></w:rPr></w:style>`;

type StyleShape = {
  readonly size: number;
  readonly before?: number;
  readonly after?: number;
  readonly bold?: boolean;
  readonly keep?: boolean;
  readonly indent?: number;
  readonly colour?: string;
};

const HEADING_LEVEL: Readonly<Record<string, number>> = { Heading1: 0, Heading2: 1, Heading3: 2 };

export const styles = (language: string): string =>
  wordPart(
    'styles',
    [
      `<w:docDefaults><w:rPrDefault><w:rPr><w:rFonts w:ascii="Georgia" w:hAnsi="Georgia" w:eastAsia="Georgia" w:cs="Times New Roman"/><w:lang w:val="${safe(language === 'en' ? 'en-GB' : language)}"/></w:rPr></w:rPrDefault><w:pPrDefault/></w:docDefaults>`,
      style('Normal', 'Normal', { size: 21, after: 80 }),
      style('Heading1', 'heading 1', { size: 32, before: 0, after: 160, bold: true, keep: true }),
      style('Heading2', 'heading 2', { size: 24, before: 240, after: 60, bold: true, keep: true }),
      style('Heading3', 'heading 3', { size: 21, before: 160, after: 40, bold: true, keep: true }),
      style('ListParagraph', 'List Paragraph', { size: 21, after: 40 }),
      style('FootnoteText', 'footnote text', { size: 18, after: 20 }),
      style('EndnoteText', 'endnote text', { size: 18, after: 20 }),
      style('Closing', 'Closing', { size: 17, before: 240, colour: '5A5A5A' }),
      '<w:style w:type="character" w:styleId="NoteReference"><w:name w:val="note reference"/><w:rPr><w:vertAlign w:val="superscript"/></w:rPr></w:style>',
    ].join(''),
  );

/** The first list has hyphens; each numbered list has its own numbers, which begin with 1. */
export const numbering = (numberedLists: number): string => {
  const level = (format: string, text: string): string =>
    `<w:lvl w:ilvl="0"><w:start w:val="1"/><w:numFmt w:val="${format}"/><w:lvlText w:val="${text}"/><w:lvlJc w:val="left"/><w:pPr><w:ind w:left="425" w:hanging="425"/></w:pPr></w:lvl>`;
  const lists = Array.from({ length: numberedLists }, (_, place) => place + 2);
  return wordPart(
    'numbering',
    [
      `<w:abstractNum w:abstractNumId="0"><w:multiLevelType w:val="singleLevel"/>${level('bullet', '–')}</w:abstractNum>`,
      ...lists.map(
        (id) =>
          `<w:abstractNum w:abstractNumId="${id}"><w:multiLevelType w:val="singleLevel"/>${level('decimal', '%1.')}</w:abstractNum>`,
      ),
      '<w:num w:numId="1"><w:abstractNumId w:val="0"/></w:num>',
      ...lists.map((id) => `<w:num w:numId="${id}"><w:abstractNumId w:val="${id}"/></w:num>`),
    ].join(''),
  );
};
