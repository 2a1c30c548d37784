"""A fault hunt: findings in; faults, verdicts with proof, conflict and advice out.

Everything given back is plain data, fit for JSON.
"""

from collections.abc import Mapping
from typing import Any

from harness.advice import Survey, survey
from harness.belief import Belief
from harness.conflict import (
    confirming,
    doubtful_survey,
    hangs_on,
    judged_conflict,
    settling,
    weighed_doubts,
)
from harness.errors import HarnessError, Problem
from harness.explain import (
    Known,
    advice_data,
    conflict_data,
    explanation,
    hangs_words,
    segment_sentence,
)
from harness.findings import Finding, finding_from
from harness.minutes import Surroundings, surroundings
from harness.model import Harness
from harness.priors import Priors, Rates
from harness.reasons import chained, reason, test_data
from harness.segments import segments_of
from harness.sets import FaultSet
from harness.stop_advice import stop_data, stop_or_test
from harness.stopping import Costs
from harness.suggestions import did_you_mean
from harness.suspects import considered, ways_of
from harness.verdicts import judge
from harness.weighing import Weighing
from harness.words import fault_words, set_words


class Case:
    """One fault hunt on one harness.

    Parameters
    ----------
    h : Harness
    priors : Priors, or mapping of (segment, mode) to float, optional
        A mapping's relative rates replace the defaults of those segments and modes.

    Raises
    ------
    HarnessError
        When the harness has no body to clip a lead to.

    Examples
    --------
    See `harness.load` for a file, then::

        case = harness.Case(h)
        case.add({"tool": "eye", "device": "horn", "rig": {...}, "reads": "dead"})
        case.advise(limit=1)
    """

    def __init__(self, h: Harness, *, priors: Priors | Rates | None = None) -> None:
        self.h = h
        self.findings: list[Finding] = []
        self._weighing = Weighing(h, priors)
        self._belief: Belief | None = None
        self._survey: Survey | None = None

    def add(self, finding: Mapping[str, object]) -> str:
        """Take a finding in; return its id.

        Raises
        ------
        HarnessError
            When it names something that is not there, or cannot have been taken; the
            case is then unchanged.
        """
        number = len(self.findings) + 1
        read = finding_from(self.h, finding, id_=f"f{number}")
        if any(read.id == known.id for known in self.findings):
            problem = Problem(
                what="a finding of this id is there already",
                where=read.id,
                mend="give each finding its own id",
            )
            raise HarnessError((problem,))
        self.findings.append(read)
        self._weighing.add(read)
        self._belief = None
        self._survey = None
        return read.id

    @property
    def belief(self) -> Belief:
        """The posterior over all hypotheses."""
        if self._belief is None:
            self._belief = self._weighing.belief()
        return self._belief

    def faults(self, limit: int = 10) -> list[dict[str, Any]]:
        """Return the likeliest explanations, best first.

        Returns
        -------
        list of dict
            ``faults`` (pairs of segment and mode; empty for nothing wrong),
            ``probability``, ``ohms`` (of one bad contact), ``intermittent``,
            ``words``, and ``lines``: the words of each fault.
        """
        return [
            {
                "faults": [[segment, mode] for segment, mode, _ in ways],
                "probability": probability,
                "ohms": faults[0].ohms if _one_bad_contact(faults) else None,
                "intermittent": any(fault.moved for fault in faults),
                "words": set_words(self.h, faults),
                "lines": [fault_words(self.h, fault) for fault in faults],
            }
            for ways, probability, faults in self.belief.explanations()[:limit]
        ]

    def segments(self) -> dict[str, dict[str, Any]]:
        """Return the verdict on every segment.

        Returns
        -------
        dict of str to dict
            ``verdict``, ``probability``, ``proof`` (ids of findings), ``stretch``,
            ``proven_amps`` and ``words``.
        """
        tests = {finding.id: finding for finding in self.findings}
        return {
            name: {
                "verdict": j.verdict,
                "probability": j.probability,
                "proof": list(j.proof),
                "stretch": j.stretch,
                "proven_amps": j.proven_amps,
                "words": segment_sentence(self.h, j, tests),
            }
            for name, j in judge(self._weighing.sets, self.belief).items()
        }

    def explain(self, segment: str) -> dict[str, Any]:
        """Return why a segment has its verdict, step by step.

        Returns
        -------
        dict
            ``segment``, ``verdict``, ``probability`` and ``steps`` (``sentence``,
            ``findings``, ``segments``): the verdict, and then what leads to it.

        Raises
        ------
        HarnessError
            When the harness has no such segment.
        """
        if segment not in segments_of(self.h):
            mend = did_you_mean(segment, segments_of(self.h), kind="segments")
            problem = Problem("this harness has no such segment", segment, mend)
            raise HarnessError((problem,))
        sets, around = self._weighing.sets, self._surroundings()
        last = None
        if self.survey.suspects.isolated:
            last = confirming(sets, self.belief, around)
        judged = judge(sets, self.belief)
        known = Known(sets, self.belief, judged, self.survey, last)
        return explanation(known, segment, around)

    def isolated(self) -> dict[str, Any] | None:
        """Return the suspects that no offered test tells apart, once they are it.

        Returns
        -------
        dict or None
            ``segments`` and their joint ``probability``, at least 0.95, and ``groups``:
            the segments that are bad with each explanation that is left. None while the
            hunt is on.
        """
        found = self.survey.suspects
        if not found.isolated:
            return None
        return {
            "segments": list(found.segments),
            "probability": found.probability,
            "groups": [list(group) for group in found.groups],
        }

    @property
    def survey(self) -> Survey:
        """Every offered test looked at for the belief as it stands."""
        if self._survey is None:
            self._survey = survey(
                self._weighing.sets, self.belief, self._surroundings()
            )
        return self._survey

    def advise(self, limit: int = 5) -> list[dict[str, Any]]:
        """Return the tests worth making next, best first; empty once isolated.

        Returns
        -------
        list of dict
            ``rig``, ``tool``, ``probe`` and ``clip`` or ``device``; ``bits``,
            ``minutes``, ``outcomes`` (``reads``, ``probability``, ``means``,
            ``example``), ``steps``, ``cautions``, ``words`` and the ``reason``. The
            first has ``chained`` as well: tests to make along with it, in the same rig
            with nothing more to open; and ``then``, what to make after its likeliest
            reading.
        """
        if self.survey.suspects.isolated:
            return []
        rows, weight = considered(self.belief)
        sets = [self.belief.sets[i] for i in rows]
        around, ranked = self._surroundings(), self.survey.ranked
        advised = [
            {
                **advice_data(self.h, one, sets, weight),
                "reason": reason(self.h, one, sets, weight, around),
            }
            for one in ranked[:limit]
        ]
        if advised:
            along = chained(self.h, ranked, ways_of(sets), weight, around)
            advised[0]["chained"] = [test_data(self.h, test) for test in along]
            then = ranked[0].then
            advised[0]["then"] = test_data(self.h, then) if then else None
        return advised

    def stopping(self, costs: Costs | None = None) -> dict[str, Any] | None:
        """Return whether to stop testing and change the likeliest part, or None.

        Parameters
        ----------
        costs : Costs, optional
            What a minute and the parts cost; one a minute and no parts unless given.

        Returns
        -------
        dict or None
            ``stop``, ``segment``, ``probability``, ``waste``, ``test_worth``,
            ``test_cost`` and ``words``; None where nothing is suspected, or nothing is
            left to test.
        """
        found = stop_or_test(self.belief, self.survey, costs or Costs())
        return None if found is None else stop_data(self.h, found)

    def confirming(self) -> dict[str, Any] | None:
        """Return the one more test that the conclusion wants before a part is fitted.

        Returns
        -------
        dict or None
            As a piece of advice, with ``reason`` and the finding that the conclusion
            ``hangs_on``. None while the hunt is on, and where the conclusion stands
            whichever reading was a slip.
        """
        suspects = self.survey.suspects
        if not suspects.isolated:
            return None
        seen = doubtful_survey(self._weighing.sets, self.belief, self._surroundings())
        if seen is None:
            return None
        weight = seen.belief.probability[seen.rows]
        sets = [seen.belief.sets[row] for row in seen.rows.tolist()]
        data = advice_data(self.h, seen.ranked[0], sets, weight / weight.sum())
        name, rival = hangs_on(self.belief, suspects.segments)
        return {**data, "reason": hangs_words(self.h, name, rival), "hangs_on": name}

    def _surroundings(self) -> Surroundings:
        return surroundings(self.h, self.findings)

    def conflict(self) -> dict[str, Any] | None:
        """Return which findings cannot all be true of this drawing, or None.

        Returns
        -------
        dict or None
            ``findings`` (the likeliest smallest set to doubt), ``sets`` (all smallest
            sets), ``doubts`` (findings misread, or a wire that is not as drawn; each
            with ``kind``, ``findings``, ``segments``, ``changes``, the ``faults`` that
            stand then, ``probability`` among the doubts and ``words``; likeliest
            first), ``test`` (the one that settles it, as advice, and ``by`` whom; None
            where there is none) and ``words``.
        """
        sets, belief = self._weighing.sets, self.belief
        found = judged_conflict(sets, belief, self._weighing.beside)
        if found is None:
            return None
        doubts = weighed_doubts(belief, found)
        ranked = settling(sets, belief, doubts, self._surroundings())
        return conflict_data(self.h, found, doubts, ranked, self.findings)


def _one_bad_contact(faults: FaultSet) -> bool:
    return len(faults) == 1 and faults[0].mode == "resistive"
