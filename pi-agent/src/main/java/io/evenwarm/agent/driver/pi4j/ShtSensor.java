package io.evenwarm.agent.driver.pi4j;

import io.evenwarm.agent.driver.SampleSource;
import io.evenwarm.agent.port.Sample;
import io.evenwarm.message.Reading.Doubt;
import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.NoSuchFileException;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * An SHT3x or SHT4x: temperature and humidity from one measurement. Whichever of its two values is
 * asked for first in a round measures; the other one takes its half of the same measurement.
 *
 * <p>A word with a wrong checksum and a transfer that fails are tried again, from the second time
 * on after a soft reset. A sensor that did not answer in the round before gets one try, so that it
 * does not hold up the others of its bus.
 *
 * <p>Belongs to the one thread that reads its bus.
 */
public final class ShtSensor {

    private static final int TRIES = 3;
    private static final int WORD_OCTETS = 2;
    private static final int RESULT_OCTETS = 6;
    private static final long RETRY_NANOS = 2_000_000;

    private final ShtAddress.Device place;
    private final ShtKind kind;
    private final I2cDevice.Opener opener;
    private final Pause pause;

    private Optional<I2cDevice> device = Optional.empty();
    private boolean failedLastTime;
    private final Map<Sample.Unit, Sample> newest = new EnumMap<>(Sample.Unit.class);
    private final Set<Sample.Unit> notTaken = EnumSet.noneOf(Sample.Unit.class);

    /**
     * @param place where it is
     * @param buses opens its bus
     */
    public ShtSensor(ShtAddress.Device place, I2cBuses buses) {
        this(place, buses.opener(), Pause.SLEEP);
    }

    ShtSensor(ShtAddress.Device place, I2cDevice.Opener opener, Pause pause) {
        this.place = place;
        this.kind = place.kind();
        this.opener = opener;
        this.pause = pause;
    }

    /** One of its two values. */
    public SampleSource source(Sample.Unit unit) {
        return startedAtNanos -> {
            if (!notTaken.remove(unit)) {
                measure(startedAtNanos);
                notTaken.addAll(EnumSet.allOf(Sample.Unit.class));
                notTaken.remove(unit);
            }
            return newest.getOrDefault(unit, new Sample.NotYet(startedAtNanos));
        };
    }

    private void measure(long atNanos) {
        int tries = failedLastTime ? 1 : TRIES;
        Sample.Failed failure = new Sample.Failed(Doubt.DRIVER, "not tried", atNanos);
        for (int i = 0; i < tries; i++) {
            try {
                byte[] result = transaction(i > 1 || failedLastTime);
                Optional<String> wrong = wrongWord(result);
                if (wrong.isEmpty()) {
                    failedLastTime = false;
                    keep(result, atNanos);
                    return;
                }
                failure = new Sample.Failed(Doubt.CHECKSUM, wrong.get(), atNanos);
            } catch (ShortAnswerException e) {
                failure = new Sample.Failed(Doubt.GARBLED, words(e), atNanos);
                close();
            } catch (IOException e) {
                failure = new Sample.Failed(doubt(e), place + ": " + words(e), atNanos);
                // Opened anew at the next try: below, a device may count as selected that is not.
                close();
            }
            pause.forNanos(RETRY_NANOS);
        }
        failedLastTime = true;
        newest.put(Sample.Unit.CELSIUS, failure);
        newest.put(Sample.Unit.PERCENT_RELATIVE_HUMIDITY, failure);
    }

    private byte[] transaction(boolean resetFirst) throws IOException {
        I2cDevice open;
        boolean isNew = device.isEmpty();
        if (isNew) {
            open = opener.open(place.bus(), place.address());
            device = Optional.of(open);
        } else {
            open = device.get();
        }
        if (isNew || resetFirst) {
            reset(open);
        }
        open.write(kind.measure());
        pause.forNanos(kind.measureNanos());
        byte[] result = new byte[RESULT_OCTETS];
        int count = open.read(result);
        if (count != RESULT_OCTETS) {
            throw new ShortAnswerException(
                    place + " answered with " + count + " octets where 6 were expected");
        }
        return result;
    }

    /** A program before this one may have left it measuring by itself, or with its heater on. */
    private void reset(I2cDevice open) {
        try {
            open.write(kind.softReset());
        } catch (IOException e) {
            // Not acknowledged by a busy sensor; whether it answers is seen next.
        }
        pause.forNanos(ShtKind.RESET_NANOS);
    }

    private Optional<String> wrongWord(byte[] result) {
        for (int at = 0; at < RESULT_OCTETS; at += WORD_OCTETS + 1) {
            int computed = ShtChecksum.of(result, at, WORD_OCTETS);
            int sent = result[at + WORD_OCTETS] & 0xFF;
            if (computed != sent) {
                return Optional.of(
                        String.format(
                                Locale.ROOT,
                                "%s sent %02x %02x with checksum %02x where %02x belongs",
                                place,
                                result[at],
                                result[at + 1],
                                sent,
                                computed));
            }
        }
        return Optional.empty();
    }

    private void keep(byte[] result, long atNanos) {
        newest.put(
                Sample.Unit.CELSIUS,
                new Sample.Measured(
                        ShtKind.celsius(word(result, 0)), Sample.Unit.CELSIUS, atNanos));
        newest.put(
                Sample.Unit.PERCENT_RELATIVE_HUMIDITY,
                new Sample.Measured(
                        kind.percentRelativeHumidity(word(result, WORD_OCTETS + 1)),
                        Sample.Unit.PERCENT_RELATIVE_HUMIDITY,
                        atNanos));
    }

    private static int word(byte[] octets, int at) {
        return (octets[at] & 0xFF) << Byte.SIZE | (octets[at + 1] & 0xFF);
    }

    private void close() {
        device.ifPresent(I2cDevice::close);
        device = Optional.empty();
    }

    /** Linux says "Remote I/O error" when nobody acknowledges the address (errno 121, 6). */
    private static Doubt doubt(IOException cause) {
        String reason = String.valueOf(cause.getMessage()).toLowerCase(Locale.ROOT);
        boolean absent =
                cause instanceof NoSuchFileException
                        || reason.contains("remote i/o error")
                        || reason.contains("no such device");
        return absent ? Doubt.NOT_THERE : Doubt.DRIVER;
    }

    private static String words(IOException cause) {
        String reason = String.valueOf(cause.getMessage());
        if (cause instanceof NoSuchFileException) {
            return reason + " is not there: is I²C switched on (dtparam=i2c_arm=on)?";
        }
        if (cause instanceof AccessDeniedException) {
            return reason + " may not be used by this user; the group i2c gives the right";
        }
        String lower = reason.toLowerCase(Locale.ROOT);
        if (lower.contains("remote i/o error") || lower.contains("no such device")) {
            return "no answer (" + reason + "): is it wired, powered and set to this address?";
        }
        if (lower.contains("timed out")) {
            return "the bus hangs (" + reason + "): something holds one of its lines down";
        }
        return reason;
    }

    private static final class ShortAnswerException extends IOException {
        private static final long serialVersionUID = 1L;

        ShortAnswerException(String message) {
            super(message);
        }
    }
}
