package io.evenwarm.monitor.alert;

import com.fasterxml.jackson.annotation.JsonAutoDetect.Visibility;
import com.fasterxml.jackson.annotation.PropertyAccessor;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.DeserializationContext;
import com.fasterxml.jackson.databind.deser.std.StdDeserializer;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.module.SimpleModule;
import com.fasterxml.jackson.databind.ser.std.ToStringSerializer;
import com.fasterxml.jackson.datatype.jdk8.Jdk8Module;
import io.evenwarm.monitor.alarm.DeskState;
import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.function.Function;

/**
 * The desk's state as JSON, for the store. It is for this program alone: a state of another version
 * that can't be read is as good as none, and the log, which is apart from it, stays.
 */
public final class DeskText {

    private static final JsonMapper MAPPER =
            JsonMapper.builder()
                    .addModule(new Jdk8Module())
                    .addModule(
                            new SimpleModule()
                                    .addSerializer(Instant.class, ToStringSerializer.instance)
                                    .addSerializer(Duration.class, ToStringSerializer.instance)
                                    .addDeserializer(
                                            Instant.class,
                                            new OfText<>(Instant.class, Instant::parse))
                                    .addDeserializer(
                                            Duration.class,
                                            new OfText<>(Duration.class, Duration::parse)))
                    .visibility(PropertyAccessor.GETTER, Visibility.NONE)
                    .visibility(PropertyAccessor.IS_GETTER, Visibility.NONE)
                    .visibility(PropertyAccessor.FIELD, Visibility.ANY)
                    .visibility(PropertyAccessor.CREATOR, Visibility.ANY)
                    .build();

    private DeskText() {}

    /** One object, on one line. */
    public static String of(DeskState state) {
        try {
            return MAPPER.writeValueAsString(state);
        } catch (JsonProcessingException e) {
            throw new IllegalStateException("every state can be written", e);
        }
    }

    /** What {@link #of} wrote; empty when this is something else. */
    public static Optional<DeskState> parse(String text) {
        try {
            return Optional.ofNullable(MAPPER.readValue(text, DeskState.class));
        } catch (JsonProcessingException | RuntimeException e) {
            return Optional.empty();
        }
    }

    /** Of a type that writes itself as text. */
    private static final class OfText<T> extends StdDeserializer<T> {

        private static final long serialVersionUID = 1;

        private final transient Function<String, T> parse;

        OfText(Class<T> type, Function<String, T> parse) {
            super(type);
            this.parse = parse;
        }

        @Override
        public T deserialize(JsonParser parser, DeserializationContext context) throws IOException {
            return parse.apply(parser.getText());
        }
    }
}
