"""Judges a survey and looks at what lies behind it: python3 judge.py SURVEY

Prints the verdicts, worst first, and for the worst place its three strongest minutes, taken from the ledger.
"""

import sys

import becalm


def severity(verdict):
    return (verdict.exceeded, verdict.band_index or 0, verdict.value or 0.0)


def place(verdict):
    return " ".join(part for part in (verdict.person or verdict.space, verdict.position, verdict.condition, verdict.axis) if part)


def table(assessment):
    for verdict in sorted(assessment.verdicts, key=severity, reverse=True):
        if not verdict.judged:
            print(f"{place(verdict):40} {verdict.criterion:20} {verdict.why_not}")
            continue
        uncertainty = f" ± {verdict.expanded_uncertainty:.2g}" if verdict.expanded_uncertainty is not None else ""
        print(f"{place(verdict):40} {verdict.criterion:20} {verdict.value:.4g}{uncertainty} {verdict.unit}: "
              f"{verdict.band or 'no limits set'}{', exceeded' if verdict.exceeded else ''}")


def strongest_minutes(ledger, count=3):
    """Tallies of single minutes, the greatest r.m.s. first; minutes that do not count as a whole are passed over."""
    minutes = []
    for from_s, to_s in ledger.selected:
        at_s = from_s
        while at_s + 60 <= min(to_s, ledger.first_second + len(ledger)):
            minutes.append((at_s, ledger.fold([(at_s, at_s + 60)])))
            at_s += 60
    return sorted(minutes, key=lambda minute: minute[1].rms, reverse=True)[:count]


def main():
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    try:
        assessment = becalm.assess(sys.argv[1])
    except becalm.Problem as problem:
        sys.exit(str(problem))
    print(assessment.title)
    table(assessment)

    judged = [verdict for verdict in assessment.verdicts if verdict.judged and verdict.space]
    if not judged:
        return
    worst = max(judged, key=severity)
    for ledger in assessment.ledgers:
        if ledger.file not in worst.recordings or (ledger.axis, ledger.weighting) != (worst.axis, worst.weighting):
            continue
        print(f"\n{ledger.file}, channel {ledger.channel} ({ledger.axis}, {ledger.weighting}): {len(ledger)} s, peak "
              f"{ledger.rows['peak'].max():.4g} {ledger.unit}")
        for at_s, tally in strongest_minutes(ledger):
            print(f"  from {at_s:5.0f} s: r.m.s. {tally.rms:.4g} {tally.unit}, running r.m.s. up to {tally.mtvv_linear:.4g} {tally.unit}")


if __name__ == "__main__":
    main()
