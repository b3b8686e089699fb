package io.evenwarm.monitor;

import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.Finding;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.Limits;
import io.evenwarm.message.Moment;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.quantity.Duty;
import io.evenwarm.quantity.Temperature;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/** Writes a journal by hand: one method a record, times in seconds since {@link #EPOCH}. */
public final class Journal {

    public static final Instant EPOCH = Instant.parse("2030-03-01T00:00:00Z");
    public static final CabinetName NORTH = new CabinetName("north");
    public static final Limits LIMITS =
            new Limits(celsius(30.5), celsius(32.5), celsius(33.5), celsius(34.5));

    private final List<JournalRecord> records = new ArrayList<>();
    private BootId boot = new BootId(new UUID(1, 1));
    private double bootSecond;
    private double clockErrorSeconds;
    private boolean trusted = true;
    private long sequence;

    public static Temperature celsius(double value) {
        return Temperature.ofCelsius(value);
    }

    public static Instant at(double second) {
        return EPOCH.plusMillis(Math.round(second * 1000));
    }

    public static ProbeReading good(String probe, ProbePlace place, double celsius) {
        return new ProbeReading(new ProbeName(probe), place, new Reading.Good(celsius(celsius), 0));
    }

    public static ProbeReading bad(String probe, ProbePlace place, Reading.Doubt doubt) {
        return new ProbeReading(new ProbeName(probe), place, new Reading.Bad(doubt, 0));
    }

    /** What was written since the last call. */
    public List<JournalRecord> take() {
        List<JournalRecord> taken = List.copyOf(records);
        records.clear();
        return taken;
    }

    /** From here on another run of the agent, begun at that second. */
    public Journal boot(int number, double second) {
        boot = new BootId(new UUID(1, number));
        bootSecond = second;
        return this;
    }

    /** From here on the agent's wall clock is wrong by that much, and nobody vouches for it. */
    public Journal clockWrongBy(double seconds) {
        clockErrorSeconds = seconds;
        trusted = false;
        return this;
    }

    public Journal clockSet() {
        clockErrorSeconds = 0;
        trusted = true;
        return this;
    }

    /** From here on sequence numbers go on after this one. */
    public Journal afterSequence(long last) {
        sequence = last;
        return this;
    }

    private Moment moment(double second) {
        return new Moment(boot, nanos(second), at(second + clockErrorSeconds), trusted);
    }

    private long nanos(double second) {
        return Math.round((second - bootSecond) * 1e9);
    }

    public Journal readings(double second, ProbeReading... probes) {
        return readings(second, NORTH, 0.25, probes);
    }

    public Journal readings(
            double second, CabinetName cabinet, double heaterOn, ProbeReading... probes) {
        records.add(
                new JournalRecord.Readings(
                        ++sequence,
                        moment(second),
                        cabinet,
                        List.of(probes),
                        celsius(31.5),
                        LIMITS,
                        new Duty(0.5),
                        heaterOn,
                        GuardState.ALLOWING));
        return this;
    }

    public Journal top(double second, double celsius) {
        return readings(second, good("top", ProbePlace.TOP, celsius));
    }

    public Journal raised(double second, FindingCode code, String words) {
        return finding(second, JournalRecord.Event.Kind.FINDING_RAISED, code, second, words);
    }

    public Journal cleared(double second, FindingCode code, double raisedSecond, String words) {
        return finding(second, JournalRecord.Event.Kind.FINDING_CLEARED, code, raisedSecond, words);
    }

    public Journal finding(
            double second,
            JournalRecord.Event.Kind kind,
            FindingCode code,
            double raisedSecond,
            String words) {
        Finding finding =
                new Finding(
                        code,
                        Optional.of(new ProbeName("top")),
                        nanos(raisedSecond),
                        "evidence",
                        "action",
                        "advice");
        records.add(
                new JournalRecord.Event(
                        ++sequence,
                        moment(second),
                        Optional.of(NORTH),
                        kind,
                        Optional.of(finding),
                        words));
        return this;
    }

    public Journal workBegun(double second) {
        records.add(
                new JournalRecord.Event(
                        ++sequence,
                        moment(second),
                        Optional.of(NORTH),
                        JournalRecord.Event.Kind.WORK_BEGUN,
                        Optional.empty(),
                        "planned work begun, for 10 min at most"));
        return this;
    }

    public Journal agentEvent(double second, JournalRecord.Event.Kind kind, String words) {
        records.add(
                new JournalRecord.Event(
                        ++sequence,
                        moment(second),
                        Optional.empty(),
                        kind,
                        Optional.empty(),
                        words));
        return this;
    }
}
