package io.evenwarm.monitor.alarm;

import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Finding;
import io.evenwarm.monitor.alarm.AlarmKind.Reach;
import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Predicate;

/** Looks at a snapshot: what the agent found in it, and what the monitor judges by itself. */
final class CabinetJudge {

    private static final List<Judgement> JUDGEMENTS =
            List.of(
                    new TooWarm(Level.LOOK),
                    new TooWarm(Level.ACT),
                    new TooCold(Level.LOOK),
                    new TooCold(Level.ACT),
                    new Uneven(),
                    new ProbesApart(),
                    new HumidityOut(false),
                    new HumidityOut(true));

    private static final AlarmWords NOTHING = new AlarmWords("", "", "");

    private final long foundOffNanos;

    CabinetJudge(AlarmTimes times) {
        foundOffNanos = times.foundOffDelay().toNanos();
    }

    /** What the monitor judges by itself. */
    static List<Judgement> judgements() {
        return JUDGEMENTS;
    }

    /**
     * A look for each judgement and each finding. Where both are about the same, what the agent
     * found counts and has been delayed by the agent already.
     */
    Map<AlarmKey, Look> looks(
            Subject subject,
            CabinetSnapshot snapshot,
            CabinetMemory memory,
            CabinetLimits limits,
            Predicate<AlarmKey> isRaised,
            Now now) {
        Map<AlarmKey, Look> looks = new LinkedHashMap<>();
        Observation seen =
                Observation.of(snapshot, memory.course().map(Course::isRising).orElse(false));
        for (Judgement judgement : JUDGEMENTS) {
            AlarmKey key = AlarmKey.of(subject, judgement.code());
            looks.put(
                    key,
                    new Look(
                            judgement.look(seen, limits, isRaised.test(key)),
                            judgement.onDelay(limits).toNanos(),
                            judgement.offDelay(limits).toNanos(),
                            now.nanos(),
                            () -> judgement.words(seen, limits)));
        }
        for (Finding finding : snapshot.findings()) {
            looks.put(key(subject, finding), look(finding, snapshot, now));
        }
        return looks;
    }

    private static AlarmKey key(Subject subject, Finding finding) {
        boolean isOfAgent = AlarmKinds.of(finding.code()).reach() == Reach.AGENT;
        return new AlarmKey(
                isOfAgent ? new Subject(subject.agent(), Optional.empty()) : subject,
                finding.code(),
                finding.probe());
    }

    private Look look(Finding finding, CabinetSnapshot snapshot, Now now) {
        long ageNanos = snapshot.moment().monotonicNanos() - finding.raisedAtNanos();
        return new Look(
                Presence.PRESENT,
                0,
                foundOffNanos,
                now.nanos() - Math.max(0, ageNanos),
                () -> new AlarmWords(finding.evidence(), finding.action(), finding.advice()));
    }

    /** Nothing tells of it any more. */
    Look absent(Now now) {
        return new Look(Presence.ABSENT, 0, foundOffNanos, now.nanos(), () -> NOTHING);
    }

    /** Whether an agent or a cabinet is silent. */
    Look silence(boolean isSilent, long heardNanos, String what, Now now) {
        return new Look(
                Presence.of(isSilent),
                0,
                foundOffNanos,
                heardNanos,
                () ->
                        new AlarmWords(
                                "nothing heard of "
                                        + what
                                        + " for "
                                        + Texts.length(
                                                Duration.ofNanos(now.sinceNanos(heardNanos))),
                                "it goes on by itself as long as it has power",
                                "Look whether it has power, then at the network between."));
    }
}
