package io.evenwarm.agent.journal;

import io.evenwarm.message.GuardState;
import io.evenwarm.message.JournalRecord.Readings;
import io.evenwarm.message.Moment;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.quantity.Duty;
import io.evenwarm.quantity.Quantity;
import io.evenwarm.quantity.RelativeHumidity;
import io.evenwarm.quantity.Temperature;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;

/**
 * What changes from one reading of a cabinet to the next, in a row of octets.
 *
 * <p>A reading is written every few seconds for months onto a memory card that wears, so it holds
 * numbers only; names, places and limits stand once in a {@link CabinetLayout}. A number is kept
 * bit for bit, as a float where that loses nothing: 31.5625 °C, as a DS18B20 says it, takes four
 * octets and not eight. {@code docs/file-formats.md} describes the octets; no code here is ever
 * given a second meaning.
 */
final class ReadingsBody {

    /** A reading's first octet: its quality in the low two bits, and two flags. */
    private static final int GOOD = 0;

    private static final int UNCERTAIN = 1;
    private static final int BAD = 2;
    private static final int QUALITY_MASK = 3;
    private static final int IS_HUMIDITY = 4;
    private static final int IS_DOUBLE = 8;

    /** Stands for an age that two octets can't hold; eight more follow. */
    private static final int LONG_AGE = 0xFFFF;

    private static final double SHARE_STEPS = 10_000;
    private static final long NANOS_PER_MILLI = 1_000_000L;

    private ReadingsBody() {}

    static byte[] encode(Readings readings) throws IOException {
        ByteArrayOutputStream octets = new ByteArrayOutputStream(64);
        DataOutputStream out = new DataOutputStream(octets);
        double setPoint = readings.setPoint().celsius();
        out.writeByte(codeOf(readings.guard()) | (isFloat(setPoint) ? 0 : IS_DOUBLE));
        writeNumber(out, setPoint);
        out.writeShort((int) Math.round(readings.duty().fraction() * SHARE_STEPS));
        out.writeShort((int) Math.round(readings.heaterOnFraction() * SHARE_STEPS));
        for (ProbeReading probe : readings.probes()) {
            write(out, probe.reading(), readings.moment().monotonicNanos());
        }
        return octets.toByteArray();
    }

    static Readings decode(byte[] octets, long sequence, Moment moment, CabinetLayout layout)
            throws IOException {
        DataInputStream in = new DataInputStream(new ByteArrayInputStream(octets));
        int head = in.readUnsignedByte();
        GuardState guard = guardOf(head & ~IS_DOUBLE);
        Temperature setPoint = new Temperature(readNumber(in, head));
        Duty duty = new Duty(in.readUnsignedShort() / SHARE_STEPS);
        double heaterOnFraction = in.readUnsignedShort() / SHARE_STEPS;
        List<ProbeReading> probes = new ArrayList<>();
        for (CabinetLayout.Place place : layout.places()) {
            Reading reading = read(in, moment.monotonicNanos());
            probes.add(new ProbeReading(place.probe(), place.place(), reading));
        }
        if (in.available() > 0) {
            throw new IOException("it is longer than its cabinet has probes");
        }
        return new Readings(
                sequence,
                moment,
                layout.cabinet(),
                probes,
                setPoint,
                layout.limits(),
                duty,
                heaterOnFraction,
                guard);
    }

    private static void write(DataOutputStream out, Reading reading, long atNanos)
            throws IOException {
        if (reading instanceof Reading.Good good) {
            out.writeByte(GOOD | flagsOf(good.value()));
            writeNumber(out, number(good.value()));
        } else if (reading instanceof Reading.Uncertain uncertain) {
            out.writeByte(UNCERTAIN | flagsOf(uncertain.value()));
            out.writeByte(codeOf(uncertain.doubt()));
            writeNumber(out, number(uncertain.value()));
        } else if (reading instanceof Reading.Bad bad) {
            out.writeByte(BAD);
            out.writeByte(codeOf(bad.doubt()));
        }
        long ageMillis = Math.floorDiv(atNanos - reading.sampledAtNanos(), NANOS_PER_MILLI);
        if (ageMillis >= 0 && ageMillis < LONG_AGE) {
            out.writeShort((int) ageMillis);
        } else {
            out.writeShort(LONG_AGE);
            out.writeLong(ageMillis);
        }
    }

    private static Reading read(DataInputStream in, long atNanos) throws IOException {
        int head = in.readUnsignedByte();
        return switch (head & QUALITY_MASK) {
            case GOOD -> {
                Quantity value = quantity(head, readNumber(in, head));
                yield new Reading.Good(value, sampledAt(in, atNanos));
            }
            case UNCERTAIN -> {
                Reading.Doubt doubt = doubtOf(in.readUnsignedByte());
                Quantity value = quantity(head, readNumber(in, head));
                yield new Reading.Uncertain(value, doubt, sampledAt(in, atNanos));
            }
            case BAD -> {
                Reading.Doubt doubt = doubtOf(in.readUnsignedByte());
                yield new Reading.Bad(doubt, sampledAt(in, atNanos));
            }
            default -> throw new IOException("a reading's quality must be 0 to 2 but was 3");
        };
    }

    private static long sampledAt(DataInputStream in, long atNanos) throws IOException {
        long ageMillis = in.readUnsignedShort();
        if (ageMillis == LONG_AGE) {
            ageMillis = in.readLong();
        }
        return atNanos - ageMillis * NANOS_PER_MILLI;
    }

    private static int flagsOf(Quantity quantity) {
        return quantity.fold(temperature -> 0, humidity -> IS_HUMIDITY)
                | (isFloat(number(quantity)) ? 0 : IS_DOUBLE);
    }

    private static boolean isFloat(double number) {
        return (float) number == number;
    }

    private static void writeNumber(DataOutputStream out, double number) throws IOException {
        if (isFloat(number)) {
            out.writeFloat((float) number);
        } else {
            out.writeDouble(number);
        }
    }

    private static double readNumber(DataInputStream in, int head) throws IOException {
        return (head & IS_DOUBLE) == 0 ? in.readFloat() : in.readDouble();
    }

    private static double number(Quantity quantity) {
        return quantity.fold(Temperature::celsius, RelativeHumidity::percent);
    }

    private static Quantity quantity(int head, double number) {
        return (head & IS_HUMIDITY) == 0 ? new Temperature(number) : new RelativeHumidity(number);
    }

    private static int codeOf(GuardState guard) {
        return switch (guard) {
            case STARTING -> 0;
            case ALLOWING -> 1;
            case HOLDING -> 2;
            case TRIPPED -> 3;
        };
    }

    private static GuardState guardOf(int code) throws IOException {
        return switch (code) {
            case 0 -> GuardState.STARTING;
            case 1 -> GuardState.ALLOWING;
            case 2 -> GuardState.HOLDING;
            case 3 -> GuardState.TRIPPED;
            default -> throw new IOException("a guard's code must be 0 to 3 but was " + code);
        };
    }

    private static int codeOf(Reading.Doubt doubt) {
        return switch (doubt) {
            case NOT_YET_READ -> 0;
            case STALE -> 1;
            case NOT_THERE -> 2;
            case GARBLED -> 3;
            case CHECKSUM -> 4;
            case POWER_ON_VALUE -> 5;
            case OUT_OF_RANGE -> 6;
            case TOO_FAST -> 7;
            case DRIVER -> 8;
        };
    }

    private static Reading.Doubt doubtOf(int code) throws IOException {
        return switch (code) {
            case 0 -> Reading.Doubt.NOT_YET_READ;
            case 1 -> Reading.Doubt.STALE;
            case 2 -> Reading.Doubt.NOT_THERE;
            case 3 -> Reading.Doubt.GARBLED;
            case 4 -> Reading.Doubt.CHECKSUM;
            case 5 -> Reading.Doubt.POWER_ON_VALUE;
            case 6 -> Reading.Doubt.OUT_OF_RANGE;
            case 7 -> Reading.Doubt.TOO_FAST;
            case 8 -> Reading.Doubt.DRIVER;
            default -> throw new IOException("a doubt's code must be 0 to 8 but was " + code);
        };
    }
}
