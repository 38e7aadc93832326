/** What `heldby help TOPIC` explains, in words; each ends with where to try it. */
export const TOPICS: Readonly<Record<string, { readonly about: string; readonly text: string }>> = {
  dates: {
    about: 'how dates are written, and which days they mean',
    text: `DATES: a date is written as the page has it. heldby keeps the words and works with the
days that they can mean. Try any with: heldby when "c. 1834"

Days, months, years
  16 May 1834   May 16, 1834   16.5.1834   1834-05-16   May 1834   1834
  Figures alone are refused where day and month can change places: 5.6.1834.

Spans
  between 1834 and 1838      both ends inside          1834/1838
  before 1840                ends 31 December 1839; by 1840: 31 December 1840
  after 1834                 begins 1 January 1835; from 1834: 1 January 1834
  until May 1836   the 1830s   183X   early 1830s   first half of the 19th century
  spring 1834   mid May 1834   1834 or 1836   ../1850 (open)   any time

In doubt
  c. 1834, about 1834, 1834~  approximate: used as evidence it reaches 5 years to either
                              side (2 months for a month, 14 days for a day); change it
                              with: heldby assume circa YEARS --why TEXT
  1834?, probably 1834        uncertain: keeps its days, but weighs no more than hearsay

Calendars and reckonings
  3 May 1733 O.S.             the Julian calendar; N.S. the Gregorian. A British day of
                              before 14 September 1752 needs one of them.
  10 Feb. 1708/9              a year that began on 25 March
  9 Geo. III   4 & 5 Will. IV regnal years; 25 Oct. 9 Geo. III is a day in one
  Lady Day 1834   Michaelmas term 1834   Easter 1834   2 Pluviôse an IX
  III Non. Maii 1844   Id. Mart. 1840: days of the Roman month
  12th ult., 3d inst.         need the date of the paper: --reference "20 May 1834"
  Where dates are written otherwise than they seem, say so to when, to every command that
  records and to import: --country scotland, --year-begins "25 March", --calendar julian.
  In JSON Lines: "country", "yearBegins", "calendar", "reference" beside the date, also of
  an amendment. What was meant is kept with what was written, so that it is plain to
  everybody. A whole list is said to write so once (series add NAME --country england):
  entry add, entry take, edition add and tables read it so; lines of JSON are taken as they
  stand. ult. and inst. in an edition count from the day as at which it stands.

A wording with two readings is refused, with the way to write each; so is a day that is
not in the calendar. What a page prints and cannot be (31 Feb.) goes beside the date that
is meant: --as-printed "31 Feb. 1834". In answers in JSON, null is an open side, and both
ends of a span are inside it.`,
  },
  readings: {
    about: 'how what is left of a mark is typed',
    text: `READINGS: a mark is typed as it stands, with signs for what is lost or unsure (the
Leiden conventions of epigraphy, on a plain keyboard).

  Ferr[.]nd       one letter is lost; [..] two, each point is a letter
  Ferr[---]       any number of letters is lost, perhaps none; so is Ferr[ca. 3]
  Ferr[an]d       lost, and supplied by you: counts as lost when names are compared
  Ferr[an.]       the three may be mixed; in Lieu[t.] the point is the abbreviation's
  Fe_rrand, Feṛrand  an unsure r; F_(e/o)rrand either of these
  Lieut(enant)    an abbreviation that you write out
  F<e>rrand       left out by the writer        Ferr{r}and  written by mistake
  [[Ferrand]]     rubbed or struck out, but legible
  J. Ferrand | 2nd Fenc.   | or / ends a line; with a hyphen before it the word goes on
  \\[              a sign that stands on the object itself

A lost letter fits any letter at no cost; any other difference costs bits, fewer for
letters that look or sound alike (u and n, c and e, rn and m) and for an unsure letter.
Six bits are what happens once in 64 times. Rank, forenames, surname, corps and place are
read from the words; correct a wrong one with --surname, --rank and so on.

Try one, and a second reading of the same mark:
  heldby candidates --text "Lieut. J. Ferr[..]d" --between 1834 1838
  heldby reading add m1 "Lieut. J. Ferrond" --by WHO`,
  },
  evidence: {
    about: 'what each kind of record says of a career, and what gives way',
    text: `EVIDENCE: each record makes claims on two unknown days of a post, its first day and the
first day after it. From all claims together follow the earliest and latest day of each.

  an entry            he was in the post on a day as at which the edition stands, or up
                      to so many days before as its series can lag (series add --lag)
  its "dated" column  the day on which he got the rank
  a nil search        he stood in no post of that service then (search add --not-found):
                      used where the other evidence leaves one gap that it can be
  a sweep             every bearer of a surname was taken down (search add --all-taken):
                      there is less room for somebody unrecorded
  a notice            appointed, promoted, exchanged: a first day; half-pay, retired,
                      resigned, dismissed, superseded: a last one; died and born bound all
  born and died       nobody is in a post before he is old enough, or after his death
  a condition         nobody is in a rank for fewer, or for more, days than that

Successive posts of one service meet on a day, unless a nil search, half-pay or a notice
of leaving stands between. A main rank that was skipped is put in as implied: it has no
evidence of its own. Brevet and staff appointments run beside the others. "Capt. h.p." and
"Capt. ret." are the rank without the post: they follow it, and are no post themselves.

Where claims cannot all be true, each smallest set of them is reported as a conflict. For
reckoning on, the least reliable is set aside (days of birth and death 10, a gazette 6,
the dated column 4, a listing 3, a nil search 2, hearsay 1), and what would have come out
otherwise is called provisional. heldby set-aside ID --why TEXT decides it for good.

See it:
  heldby tenures PERSON --grounds
  heldby conflicts PERSON`,
  },
  shares: {
    about: 'what the shares of candidates mean, and how they may be worded',
    text: `SHARES: a candidate's share is his part of the likelihood of everybody who could have
made the mark, somebody who is not in the ledger included. They add up to 1.

It is the sum, over the days on which the mark can have been made, of three things:
  how likely it was made on that day   from the object's features, the mark's own date,
                                       and its role (an owner marks soon, a depository
                                       at any time)
  how likely he was in the post then   1 on days that are certain, 0 on days that are not
                                       possible, a slope between
  how well the words agree             1 where they do; half for every bit of disagreement

Somebody unrecorded weighs as many people as may have been in the post, times the
frequency of the name. A sweep of the surname lowers it; a damaged reading raises it. It
is never left out, and a large share of it says that more has to be looked up.

Worded for print: from 0.95 almost certainly, from 0.80 very probably, from 0.60 probably,
from 0.30 possibly, below that cannot be ruled out. A provisional result drops one grade.
A conclusion that hangs on one record says so. The cautions belong to the answer.

Every weight is an assumption, with its default and source; two of them can be reckoned
from a large ledger:
  heldby assume
  heldby assume --estimate name.frequency

See the shares, and what would change them:
  heldby candidates MARK
  heldby lookups MARK`,
  },
  formats: {
    about: 'files that can be read and written',
    text: `FORMATS

Entries of lists: CSV (commas, semicolons or tabs), TSV, or a spreadsheet (XLSX, its first
sheet or --sheet NAME), with a line of headers. These names are understood as they are;
others are guessed where only one thing can be meant ("Regt." is corps), and told, or
mapped, as in --map person=person_id:
  series, edition, as_at, person, name, surname, forenames, rank, corps, dated, page,
  kind, note
Text is UTF-8, UTF-16 or Windows-1252: how it was read is said, --encoding decides.
  heldby import list.csv --series "Coast Survey"
  heldby import list.xlsx --accept-good --rejects to-mend.csv

Any records: JSON Lines, one record a line, "type" first, "key" your own stable name for
it; other lines refer to it by that key, in any order:
  {"type":"person","key":"ferrand","surname":"Ferrand","forenames":"Julian Peter"}
  {"type":"entry","edition":"al-1834","person":"ferrand","rank":"Lieut.","page":"213"}
Types: series, edition, person, name, kin, same, differ, entry, link, search, notice,
condition, object, feature, mark, reading, photo, attribution, assumption, setAside, fact,
service, rank, corps, amendment, withdrawal.

An import is one act: all of it, or nothing. What comes again is known and is not
recorded twice. A page typed line by line: heldby entry take --help

Out: every command with --json gives one JSON document, lists also --csv; all of a ledger
  heldby export --all --format jsonl
Read into another ledger it gives the same answers; ids may differ, and a record that had
no key has one made of what it says. With --acts, into an empty one, the history too:
the same acts, ids and keys, and written again the same bytes. Only the seals of acts (the
hashes and numbers of rows in heldby history --json) are new: they are over the rows as
they lie in that file.
The ledger itself is one SQLite file, and pictures lie beside it in LEDGER.photos; copy
both with: heldby backup FILE`,
  },
};
