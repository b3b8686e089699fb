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
import io.evenwarm.quantity.Quantity;
import io.evenwarm.quantity.RelativeHumidity;
import io.evenwarm.quantity.Temperature;
import java.time.Instant;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.UUID;
import java.util.function.Supplier;
import java.util.stream.Stream;

/** Messages of every kind from one seed, extreme values among them. */
final class RandomMessages {

    private static final String NAME_LETTERS = "abcXYZ019äßжあ";
    private static final String TEXT_LETTERS = NAME_LETTERS + " .,:;°±\"\\\n\t\u0000€🥚";

    private final Random random;

    RandomMessages(long seed) {
        random = new Random(seed);
    }

    Message message() {
        return switch (random.nextInt(22)) {
            case 0 ->
                    new Message.Hello(
                            list(4, random::nextInt),
                            one(Message.Hello.Side.values()),
                            text(80),
                            text(80),
                            Math.nextUp(random.nextDouble() * 99_999),
                            perhaps(() -> octets(Message.NONCE_OCTETS, Message.NONCE_OCTETS)),
                            perhaps(() -> new Message.KeyProof(octets(1, 100), octets(1, 80))),
                            perhaps(() -> list(4, this::sensor)));
            case 1 -> new Message.Live(snapshot());
            case 2 -> new Message.HistoryRequest(number());
            case 3 -> new Message.HistoryBatch(text(20), list(20, this::journalRecord));
            case 4 -> new Message.Acknowledge(number());
            case 5 -> new Message.CommandRequest(number(), command());
            case 6 ->
                    new Message.CommandAnswer(
                            number(),
                            random.nextBoolean()
                                    ? new CommandOutcome.Done(text(100))
                                    : new CommandOutcome.Refused(text(100)));
            case 7 -> new Message.StatusRequest();
            case 8 ->
                    new Message.StatusEnd(
                            Optional.of(List.of(text(100))),
                            perhaps(this::previousRun),
                            perhaps(() -> text(60)));
            case 9 -> new Message.Time(moment(), perhaps(this::number));
            case 10 -> new Message.KeepAlive();
            case 11 -> new Message.Challenge(octets(32, 32));
            case 12 ->
                    new Message.SignedCommand(
                            number(), octets(1, 512), octets(1, 4096), octets(1, 256));
            case 13 -> new Message.PairRequest(name(), octets(1, 512));
            case 14 -> new Message.PairCommit(octets(1, 512), octets(32, 32));
            case 15 -> new Message.PairNonce(octets(32, 32));
            case 16 -> new Message.PairReveal(octets(32, 32));
            case 17 -> new Message.PairConfirm(random.nextBoolean());
            case 18 ->
                    new Message.PairResult(
                            new CommandOutcome.Refused(text(100)),
                            perhaps(() -> one(Role.values())),
                            perhaps(() -> text(64)));
            case 19 -> new Message.PairOpen(one(Role.values()));
            case 20 ->
                    new Message.PairState(
                            random.nextBoolean(),
                            random.nextBoolean(),
                            random.nextInt(),
                            random.nextInt(),
                            text(100),
                            perhaps(() -> text(6)),
                            perhaps(() -> text(64)),
                            perhaps(() -> text(71)));
            default -> new Message.Goodbye(text(300));
        };
    }

    JournalRecord journalRecord() {
        return random.nextBoolean()
                ? new JournalRecord.Readings(
                        number(),
                        moment(),
                        new CabinetName(name()),
                        list(6, this::probeReading),
                        temperature(),
                        limits(),
                        duty(),
                        random.nextDouble(),
                        one(GuardState.values()))
                : new JournalRecord.Event(
                        number(),
                        moment(),
                        perhaps(() -> new CabinetName(name())),
                        one(JournalRecord.Event.Kind.values()),
                        perhaps(this::finding),
                        text(200),
                        perhaps(this::previousRun));
    }

    private Command command() {
        CabinetName cabinet = new CabinetName(name());
        return switch (random.nextInt(6)) {
            case 4 ->
                    new Command.Tune(
                            cabinet, one(Command.Tune.Action.values()), random.nextBoolean());
            case 0 -> new Command.SetSetPoint(cabinet, temperature());
            case 1 -> new Command.ResetCutOff(cabinet);
            case 2 -> new Command.StartPlannedWork(cabinet, random.nextInt());
            case 3 -> new Command.EndPlannedWork(cabinet);
            default -> new Command.Silence(cabinet);
        };
    }

    private CabinetSnapshot snapshot() {
        return new CabinetSnapshot(
                new CabinetName(name()),
                number(),
                moment(),
                list(6, this::probeReading),
                perhaps(this::temperature),
                temperature(),
                temperature(),
                limits(),
                duty(),
                random.nextBoolean(),
                perhaps(random::nextBoolean),
                perhaps(random::nextBoolean),
                one(GuardState.values()),
                list(3, this::finding),
                random.nextBoolean(),
                perhaps(random::nextBoolean),
                perhaps(() -> random.nextDouble() * 5000),
                perhaps(this::number),
                perhaps(
                        () ->
                                new Moisture(
                                        perhaps(() -> random.nextDouble() * 100),
                                        perhaps(this::temperature),
                                        perhaps(random::nextBoolean),
                                        perhaps(random::nextBoolean))),
                perhaps(this::controlReport));
    }

    private ControlReport controlReport() {
        return new ControlReport(
                number(),
                perhaps(() -> text(40)),
                perhaps(
                        () ->
                                new ControlReport.Tuning(
                                        text(10),
                                        perhaps(() -> text(40)),
                                        perhaps(() -> text(20)),
                                        perhaps(random::nextDouble),
                                        perhaps(random::nextDouble),
                                        perhaps(random::nextDouble),
                                        perhaps(random::nextDouble),
                                        perhaps(random::nextDouble),
                                        list(3, () -> text(60)))),
                list(3, () -> text(60)));
    }

    private ProbeSensor sensor() {
        return new ProbeSensor(new CabinetName(name()), new ProbeName(name()), name());
    }

    private ProbeReading probeReading() {
        return new ProbeReading(
                new ProbeName(name()),
                random.nextBoolean()
                        ? one(ProbePlace.TOP, ProbePlace.MIDDLE, ProbePlace.BOTTOM, ProbePlace.TUB)
                        : ProbePlace.of(name()),
                switch (random.nextInt(3)) {
                    case 0 -> new Reading.Good(quantity(), number());
                    case 1 ->
                            new Reading.Uncertain(
                                    quantity(), one(Reading.Doubt.values()), number());
                    default -> new Reading.Bad(one(Reading.Doubt.values()), number());
                });
    }

    private Finding finding() {
        return new Finding(
                one(FindingCode.TOO_WARM, FindingCode.BLIND, new FindingCode("not-known-yet-9")),
                perhaps(() -> new ProbeName(name())),
                number(),
                text(80),
                text(80),
                text(80));
    }

    private Moment moment() {
        return new Moment(
                new BootId(new UUID(random.nextLong(), random.nextLong())),
                number(),
                Instant.ofEpochSecond(0, number()),
                random.nextBoolean(),
                perhaps(() -> Instant.ofEpochSecond(0, number())));
    }

    private PreviousRun previousRun() {
        return new PreviousRun(one(PreviousRun.Ending.values()), perhaps(this::moment));
    }

    private Limits limits() {
        return new Limits(temperature(), temperature(), temperature(), temperature());
    }

    private Quantity quantity() {
        return random.nextBoolean()
                ? temperature()
                : new RelativeHumidity(random.nextDouble() * 100);
    }

    /** Sixteenths, as a DS18B20 has them; whole numbers; anything; the ends. */
    private Temperature temperature() {
        return Temperature.ofCelsius(
                switch (random.nextInt(4)) {
                    case 0 -> (random.nextInt(2_880) - 880) / 16.0;
                    case 1 -> random.nextInt(100) - 50;
                    case 2 -> random.nextDouble() * 1_273 - 273;
                    default -> one(Temperature.MIN_CELSIUS, Temperature.MAX_CELSIUS, -0.0, 0.1);
                });
    }

    private Duty duty() {
        return new Duty(one(0.0, 1.0, Double.MIN_VALUE, random.nextDouble()));
    }

    private long number() {
        return switch (random.nextInt(4)) {
            case 0 -> random.nextLong();
            case 1 -> random.nextInt(300);
            case 2 -> one(Long.MIN_VALUE, Long.MAX_VALUE, -1L, 0L);
            default -> random.nextInt();
        };
    }

    private String octets(int min, int max) {
        byte[] octets = new byte[min + random.nextInt(max - min + 1)];
        random.nextBytes(octets);
        return HexFormat.of().formatHex(octets);
    }

    private String name() {
        return "n" + letters(NAME_LETTERS, random.nextInt(20));
    }

    private String text(int maxLength) {
        return letters(TEXT_LETTERS, random.nextInt(maxLength));
    }

    private String letters(String from, int count) {
        int[] codePoints = from.codePoints().toArray();
        StringBuilder text = new StringBuilder();
        for (int i = 0; i < count; i++) {
            text.appendCodePoint(codePoints[random.nextInt(codePoints.length)]);
        }
        return text.toString();
    }

    private <T> Optional<T> perhaps(Supplier<T> of) {
        return random.nextBoolean() ? Optional.of(of.get()) : Optional.empty();
    }

    private <T> List<T> list(int maxSize, Supplier<T> of) {
        return Stream.generate(of).limit(random.nextInt(maxSize)).toList();
    }

    @SafeVarargs
    private <T> T one(T... choices) {
        return choices[random.nextInt(choices.length)];
    }
}
