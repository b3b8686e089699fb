package io.evenwarm.codec;

import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import io.evenwarm.message.ControlReport;
import io.evenwarm.message.Finding;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.Limits;
import io.evenwarm.message.Message;
import io.evenwarm.message.Moisture;
import io.evenwarm.message.Moment;
import io.evenwarm.message.PreviousRun;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.ProbeSensor;
import io.evenwarm.message.Reading;
import io.evenwarm.message.Role;
import io.evenwarm.quantity.Duty;
import io.evenwarm.quantity.RelativeHumidity;
import io.evenwarm.quantity.Temperature;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;

/** One fixed message of each kind and shape; the golden files hold their encodings. Invented. */
final class SampleMessages {

    private static final CabinetName NORTH = new CabinetName("north");
    private static final BootId BOOT =
            new BootId(UUID.fromString("00112233-4455-6677-8899-aabbccddeeff"));
    private static final Moment MOMENT =
            new Moment(
                    BOOT,
                    3_600_000_000_123L,
                    Instant.parse("2026-03-01T06:00:00.000000001Z"),
                    true);
    private static final Limits LIMITS =
            new Limits(celsius(30.5), celsius(32.5), celsius(33.5), celsius(34.5));
    private static final Finding FINDING =
            new Finding(
                    FindingCode.PROBE_LOST,
                    Optional.of(new ProbeName("floor")),
                    3_599_000_000_000L,
                    "no answer for 12 s",
                    "steering by the other probes",
                    "look at the cable of probe floor");
    private static final List<ProbeReading> PROBES =
            List.of(
                    probe(
                            "shelf 1",
                            ProbePlace.TOP,
                            new Reading.Good(celsius(31.5625), 3_599_800_000_000L)),
                    probe(
                            "floor",
                            ProbePlace.BOTTOM,
                            new Reading.Bad(Reading.Doubt.NOT_THERE, 3_588_000_000_000L)),
                    probe(
                            "tub 4",
                            ProbePlace.TUB,
                            new Reading.Uncertain(
                                    celsius(85), Reading.Doubt.POWER_ON_VALUE, 3_599_100_000_000L)),
                    probe(
                            "damp",
                            ProbePlace.of("door side"),
                            new Reading.Good(new RelativeHumidity(81.3), 3_599_900_000_000L)));

    /** Only looks like a key. */
    private static final String KEY = "3059301306072a8648ce3d0201";

    private SampleMessages() {}

    /** By the name of the golden file. */
    static Map<String, Message> all() {
        Map<String, Message> all = new LinkedHashMap<>();
        all.put(
                "hello",
                new Message.Hello(
                        List.of(1),
                        Message.Hello.Side.AGENT,
                        "egg room",
                        "evenwarm-agent 0.1.0",
                        1));
        all.put(
                "hello-asks-for-proof",
                new Message.Hello(
                        List.of(1),
                        Message.Hello.Side.MONITOR,
                        "desk",
                        "evenwarm 0.1.0",
                        1,
                        Optional.of("5a".repeat(Message.NONCE_OCTETS)),
                        Optional.empty()));
        all.put(
                "hello-with-proof",
                new Message.Hello(
                        List.of(1),
                        Message.Hello.Side.AGENT,
                        "egg room",
                        "evenwarm-agent 0.1.0",
                        1,
                        Optional.empty(),
                        Optional.of(new Message.KeyProof(KEY, "3006020101020102"))));
        all.put(
                "hello-with-sensors",
                new Message.Hello(
                        List.of(1),
                        Message.Hello.Side.AGENT,
                        "egg room",
                        "evenwarm-agent 0.1.0",
                        1,
                        Optional.empty(),
                        Optional.empty(),
                        Optional.of(
                                List.of(
                                        new ProbeSensor(
                                                new CabinetName("north"),
                                                new ProbeName("top"),
                                                "ds18b20")))));
        all.put("live", new Message.Live(snapshot()));
        all.put("live-at-work", new Message.Live(atWork()));
        all.put("history-request", new Message.HistoryRequest(41));
        all.put(
                "history-batch",
                new Message.HistoryBatch("6f1c", List.of(readings(), raised(), started())));
        all.put(
                "history-batch-after-a-power-cut",
                new Message.HistoryBatch("6f1c", List.of(startedAgain())));
        all.put("acknowledge", new Message.Acknowledge(44));
        all.put(
                "command-set-set-point",
                new Message.CommandRequest(7, new Command.SetSetPoint(NORTH, celsius(31.2))));
        all.put(
                "command-reset-cut-off",
                new Message.CommandRequest(8, new Command.ResetCutOff(NORTH)));
        all.put("command-silence", new Message.CommandRequest(9, new Command.Silence(NORTH)));
        all.put(
                "command-start-planned-work",
                new Message.CommandRequest(10, new Command.StartPlannedWork(NORTH, 15)));
        all.put(
                "command-end-planned-work",
                new Message.CommandRequest(11, new Command.EndPlannedWork(NORTH)));
        all.put(
                "command-tune",
                new Message.CommandRequest(
                        12, new Command.Tune(NORTH, Command.Tune.Action.STEP, true)));
        all.put("live-tuned", new Message.Live(tuned()));
        all.put(
                "answer-done",
                new Message.CommandAnswer(7, new CommandOutcome.Done("set point is 31.2 °C")));
        all.put(
                "answer-refused",
                new Message.CommandAnswer(
                        8, new CommandOutcome.Refused("still too warm: 34.0 °C")));
        all.put("status-request", new Message.StatusRequest());
        all.put(
                "status-end",
                new Message.StatusEnd(Optional.empty(), Optional.empty(), Optional.empty()));
        all.put(
                "status-end-after-a-power-cut",
                new Message.StatusEnd(
                        Optional.of(List.of("TLS: port 4711 is taken")),
                        Optional.of(previousRun()),
                        Optional.of("set by the system")));
        all.put("time", new Message.Time(MOMENT));
        all.put("time-answered", new Message.Time(MOMENT, Optional.of(3_599_999_000_123L)));
        all.put("keep-alive", new Message.KeepAlive());
        all.put("goodbye", new Message.Goodbye("the monitor is closing"));
        all.put("challenge", new Message.Challenge("c0".repeat(32)));
        all.put(
                "signed-command",
                new Message.SignedCommand(3, KEY, "bf6474797065ff", "3006020101020102"));
        all.put("pair-request", new Message.PairRequest("desk", KEY));
        all.put("pair-commit", new Message.PairCommit(KEY, "5a".repeat(32)));
        all.put("pair-nonce", new Message.PairNonce("0b".repeat(32)));
        all.put("pair-reveal", new Message.PairReveal("0a".repeat(32)));
        all.put("pair-confirm", new Message.PairConfirm(true));
        all.put(
                "pair-result",
                new Message.PairResult(
                        new CommandOutcome.Done("desk is paired and may look"),
                        Optional.of(Role.LOOK),
                        Optional.of("egg room")));
        all.put("pair-open", new Message.PairOpen(Role.OPERATE));
        all.put(
                "pair-state",
                new Message.PairState(
                        true,
                        false,
                        270,
                        4,
                        "compare the digits",
                        Optional.of("012345"),
                        Optional.of("desk"),
                        Optional.of("sha256:" + "0f".repeat(32))));
        return all;
    }

    static Message named(String name) {
        return Objects.requireNonNull(all().get(name), name);
    }

    static JournalRecord readings() {
        return new JournalRecord.Readings(
                42,
                MOMENT,
                NORTH,
                PROBES,
                celsius(31.5),
                LIMITS,
                new Duty(0.375),
                0.4,
                GuardState.ALLOWING);
    }

    static JournalRecord raised() {
        return new JournalRecord.Event(
                43,
                MOMENT,
                Optional.of(NORTH),
                JournalRecord.Event.Kind.FINDING_RAISED,
                Optional.of(FINDING),
                "probe floor is lost");
    }

    static JournalRecord started() {
        return new JournalRecord.Event(
                44,
                new Moment(BOOT, 5, Instant.EPOCH, false),
                Optional.empty(),
                JournalRecord.Event.Kind.AGENT_STARTED,
                Optional.empty(),
                "agent started");
    }

    private static JournalRecord startedAgain() {
        return new JournalRecord.Event(
                45,
                new Moment(BOOT, 5, Instant.EPOCH, false)
                        .corrected(Instant.parse("2026-03-01T07:30:00Z")),
                Optional.empty(),
                JournalRecord.Event.Kind.AGENT_STARTED,
                Optional.empty(),
                "agent started",
                Optional.of(previousRun()));
    }

    private static PreviousRun previousRun() {
        return new PreviousRun(PreviousRun.Ending.POWER_LOSS, Optional.of(MOMENT));
    }

    private static CabinetSnapshot snapshot() {
        return new CabinetSnapshot(
                NORTH,
                3600,
                MOMENT,
                PROBES,
                Optional.of(celsius(31.5625)),
                celsius(31.5),
                celsius(31.0),
                LIMITS,
                new Duty(0.375),
                true,
                Optional.of(true),
                Optional.empty(),
                GuardState.ALLOWING,
                List.of(FINDING),
                false);
    }

    private static CabinetSnapshot atWork() {
        return new CabinetSnapshot(
                NORTH,
                3601,
                MOMENT,
                List.of(),
                Optional.empty(),
                celsius(31.5),
                celsius(31.5),
                LIMITS,
                Duty.OFF,
                false,
                Optional.empty(),
                Optional.of(true),
                GuardState.HOLDING,
                List.of(),
                true,
                Optional.of(true),
                Optional.of(1365.0),
                Optional.of(4_500_000_000_123L),
                Optional.empty(),
                Optional.empty());
    }

    private static CabinetSnapshot tuned() {
        return new CabinetSnapshot(
                NORTH,
                3602,
                MOMENT,
                List.of(),
                Optional.empty(),
                celsius(31.5),
                celsius(31.5),
                LIMITS,
                Duty.OFF,
                false,
                Optional.empty(),
                Optional.empty(),
                GuardState.ALLOWING,
                List.of(),
                false,
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.of(
                        new Moisture(
                                Optional.of(90.0),
                                Optional.of(celsius(29.625)),
                                Optional.of(true),
                                Optional.of(false))),
                Optional.of(
                        new ControlReport(
                                12_345,
                                Optional.of("step test, 12 min"),
                                Optional.of(
                                        new ControlReport.Tuning(
                                                "step",
                                                Optional.empty(),
                                                Optional.of("improved SIMC, PID"),
                                                Optional.of(1.25),
                                                Optional.of(480.0),
                                                Optional.of(20.0),
                                                Optional.empty(),
                                                Optional.empty(),
                                                List.of("gain 8 K"))),
                                List.of("the heater's relay lasts about 40 days more"))));
    }

    private static ProbeReading probe(String name, ProbePlace place, Reading reading) {
        return new ProbeReading(new ProbeName(name), place, reading);
    }

    private static Temperature celsius(double degrees) {
        return Temperature.ofCelsius(degrees);
    }
}
