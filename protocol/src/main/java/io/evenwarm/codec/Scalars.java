package io.evenwarm.codec;

import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.databind.DeserializationContext;
import com.fasterxml.jackson.databind.JsonDeserializer;
import com.fasterxml.jackson.databind.JsonSerializer;
import com.fasterxml.jackson.databind.SerializerProvider;
import com.fasterxml.jackson.databind.exc.MismatchedInputException;
import com.fasterxml.jackson.databind.module.SimpleModule;
import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.quantity.Duty;
import io.evenwarm.quantity.Temperature;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.time.Instant;
import java.util.UUID;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;

/**
 * Records that stand in CBOR as one text, number or byte string. Each takes its own kind of token
 * only: a number that came as text is a fault of the sender, not something to be guessed at.
 */
final class Scalars {

    private static final int UUID_OCTETS = 16;
    private static final long NANOS_PER_SECOND = 1_000_000_000;

    private Scalars() {}

    static SimpleModule module() {
        SimpleModule module = new SimpleModule("evenwarm");
        text(module, CabinetName.class, CabinetName::value, CabinetName::new);
        text(module, ProbeName.class, ProbeName::value, ProbeName::new);
        text(module, FindingCode.class, FindingCode::value, FindingCode::new);
        text(module, ProbePlace.class, ProbePlace::label, ProbePlace::of);
        number(module, Temperature.class, Temperature::celsius, Temperature::new);
        number(module, Duty.class, Duty::fraction, Duty::new);
        add(module, Instant.class, Scalars::writeInstant, Scalars::readInstant);
        add(module, BootId.class, Scalars::writeBootId, Scalars::readBootId);
        return module;
    }

    /**
     * Nanoseconds since 1970-01-01T00:00:00Z in 64 bits, which reach from 1677 to 2262. A clock
     * that is further out is wrong whatever it says, and is taken as the nearest end.
     */
    private static void writeInstant(Instant instant, JsonGenerator out) throws IOException {
        long nanos;
        try {
            nanos =
                    Math.addExact(
                            Math.multiplyExact(instant.getEpochSecond(), NANOS_PER_SECOND),
                            instant.getNano());
        } catch (ArithmeticException e) {
            nanos = instant.getEpochSecond() < 0 ? Long.MIN_VALUE : Long.MAX_VALUE;
        }
        out.writeNumber(nanos);
    }

    private static Instant readInstant(JsonParser in) throws IOException {
        expect(in, JsonToken.VALUE_NUMBER_INT, Instant.class, "a whole number");
        long nanos = in.getLongValue();
        return Instant.ofEpochSecond(
                Math.floorDiv(nanos, NANOS_PER_SECOND), Math.floorMod(nanos, NANOS_PER_SECOND));
    }

    private static void writeBootId(BootId boot, JsonGenerator out) throws IOException {
        out.writeBinary(
                ByteBuffer.allocate(UUID_OCTETS)
                        .putLong(boot.value().getMostSignificantBits())
                        .putLong(boot.value().getLeastSignificantBits())
                        .array());
    }

    private static BootId readBootId(JsonParser in) throws IOException {
        expect(in, JsonToken.VALUE_EMBEDDED_OBJECT, BootId.class, "a byte string");
        byte[] octets = in.getBinaryValue();
        if (octets.length != UUID_OCTETS) {
            throw new IllegalArgumentException(
                    "a boot id must have " + UUID_OCTETS + " octets but has " + octets.length);
        }
        ByteBuffer halves = ByteBuffer.wrap(octets);
        return new BootId(new UUID(halves.getLong(), halves.getLong()));
    }

    private static <T> void text(
            SimpleModule module, Class<T> type, Function<T, String> text, Function<String, T> of) {
        add(
                module,
                type,
                (value, out) -> out.writeString(text.apply(value)),
                in -> {
                    expect(in, JsonToken.VALUE_STRING, type, "a text");
                    return of.apply(in.getText());
                });
    }

    private static <T> void number(
            SimpleModule module, Class<T> type, ToDoubleFunction<T> number, ToRecord<T> of) {
        add(
                module,
                type,
                (value, out) -> out.writeNumber(number.applyAsDouble(value)),
                in -> {
                    if (!in.currentToken().isNumeric()) {
                        expect(in, JsonToken.VALUE_NUMBER_FLOAT, type, "a number");
                    }
                    return of.of(in.getDoubleValue());
                });
    }

    private static void expect(JsonParser in, JsonToken expected, Class<?> type, String what)
            throws IOException {
        if (in.currentToken() != expected) {
            throw MismatchedInputException.from(
                    in, type, "must be " + what + " but is " + in.currentToken());
        }
    }

    private static <T> void add(
            SimpleModule module, Class<T> type, Writing<T> writing, Reading<T> reading) {
        module.addSerializer(type, new Writer<>(writing));
        module.addDeserializer(type, new Reader<>(type, reading));
    }

    @FunctionalInterface
    private interface ToRecord<T> {
        T of(double number);
    }

    @FunctionalInterface
    private interface Writing<T> {
        void write(T value, JsonGenerator out) throws IOException;
    }

    @FunctionalInterface
    private interface Reading<T> {
        T read(JsonParser in) throws IOException;
    }

    private static final class Writer<T> extends JsonSerializer<T> {
        private final Writing<T> writing;

        Writer(Writing<T> writing) {
            this.writing = writing;
        }

        @Override
        public void serialize(T value, JsonGenerator out, SerializerProvider provider)
                throws IOException {
            writing.write(value, out);
        }
    }

    private static final class Reader<T> extends JsonDeserializer<T> {
        private final Class<T> type;
        private final Reading<T> reading;

        Reader(Class<T> type, Reading<T> reading) {
            this.type = type;
            this.reading = reading;
        }

        @Override
        public T deserialize(JsonParser in, DeserializationContext context) throws IOException {
            try {
                return reading.read(in);
            } catch (IllegalArgumentException e) {
                // What the record itself says of its value is the best reason there is.
                throw MismatchedInputException.from(in, type, e.getMessage());
            }
        }
    }
}
