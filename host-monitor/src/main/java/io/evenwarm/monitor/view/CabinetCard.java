package io.evenwarm.monitor.view;

import io.evenwarm.monitor.chart.Mark;
import io.evenwarm.monitor.history.CabinetKey;
import java.util.List;
import java.util.Optional;

/**
 * One cabinet in words and numbers, ready to be shown.
 *
 * @param number the process value, without its unit; words where there is none to trust
 * @param unit the number's unit; empty where the number is words
 * @param lastKnown what was last known and when; empty while the cabinet is alive
 * @param setPoint the set point, with what differs from the configuration
 * @param duty how much heat is asked for, and whether the heater is on
 * @param guard what the guard allows
 * @param work until when a person works at it, as far as is known; empty when nobody does
 * @param age how old the newest reading is
 * @param eggs how long the eggs would have without heat, and how warm they are taken to be; empty
 *     where neither is known
 * @param findings what holds now, worst first
 * @param alarm the most pressing alarm; empty where there is none
 */
record CabinetCard(
        CabinetKey key,
        CardState state,
        String number,
        String unit,
        String lastKnown,
        String setPoint,
        List<ProbeValue> probes,
        String duty,
        String guard,
        String work,
        String age,
        String eggs,
        List<FindingLine> findings,
        Optional<AlarmsModel.CardAlarm> alarm) {

    /**
     * One probe's newest value.
     *
     * @param label which probe
     * @param value its value with a unit where that is not the temperature's, or why there is none
     * @param good whether the value may be relied on
     */
    record ProbeValue(String label, Mark mark, String value, boolean good) {}

    /**
     * One finding.
     *
     * @param headline what, and since how long
     * @param evidence what it was found from
     * @param action what the agent did by itself
     * @param advice what the person should do
     */
    record FindingLine(String headline, String evidence, String action, String advice) {}

    CabinetCard {
        probes = List.copyOf(probes);
        findings = List.copyOf(findings);
    }

    CabinetCard withAlarm(Optional<AlarmsModel.CardAlarm> other) {
        return new CabinetCard(
                key, state, number, unit, lastKnown, setPoint, probes, duty, guard, work, age, eggs,
                findings, other);
    }

    /** Everything that the card shows, as a screen reader should say it. */
    String spoken() {
        StringBuilder text = new StringBuilder();
        text.append("Cabinet ").append(key.cabinet()).append(", ").append(state.words());
        text.append(". ");
        alarm.ifPresent(its -> text.append(its.words()).append(". "));
        if (state.isAlive()) {
            text.append(number).append(' ').append(unit).append(". ");
        } else {
            text.append(lastKnown).append(". ");
        }
        text.append(setPoint).append(". ").append(duty).append(". ");
        text.append(guard).append(". ");
        text.append(work).append(work.isEmpty() ? "" : ". ");
        text.append(age).append('.');
        text.append(eggs.isEmpty() ? "" : " " + eggs);
        for (FindingLine finding : findings) {
            text.append(' ').append(finding.headline()).append('.');
        }
        return text.toString();
    }
}
