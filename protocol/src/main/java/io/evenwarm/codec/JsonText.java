package io.evenwarm.codec;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Writes the one JSON object that a command prints with {@code --json} (RFC 8259). */
public final class JsonText {

    private static final JsonFactory FACTORY = new JsonFactory();

    private JsonText() {}

    /**
     * One object on one line.
     *
     * @param members texts, numbers, booleans, enums, Optionals, lists and maps of these; an empty
     *     Optional and a number that is not finite become {@code null}
     * @throws IllegalArgumentException for a value of another kind
     */
    public static String object(Map<String, ?> members) {
        StringWriter text = new StringWriter();
        try (JsonGenerator json = FACTORY.createGenerator(text)) {
            write(json, members);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return text.toString();
    }

    private static void write(JsonGenerator json, Object value) throws IOException {
        if (value instanceof String text) {
            json.writeString(text);
        } else if (value instanceof Boolean flag) {
            json.writeBoolean(flag);
        } else if (value instanceof Integer || value instanceof Long) {
            json.writeNumber(((Number) value).longValue());
        } else if (value instanceof Double number) {
            if (Double.isFinite(number)) {
                json.writeNumber(number);
            } else {
                json.writeNull();
            }
        } else if (value instanceof Enum<?> word) {
            json.writeString(word.name());
        } else if (value instanceof Optional<?> optional) {
            if (optional.isPresent()) {
                write(json, optional.get());
            } else {
                json.writeNull();
            }
        } else if (value instanceof List<?> list) {
            json.writeStartArray();
            for (Object item : list) {
                write(json, item);
            }
            json.writeEndArray();
        } else if (value instanceof Map<?, ?> map) {
            json.writeStartObject();
            for (Map.Entry<?, ?> member : map.entrySet()) {
                json.writeFieldName(String.valueOf(member.getKey()));
                write(json, member.getValue());
            }
            json.writeEndObject();
        } else {
            throw new IllegalArgumentException("can't be JSON: " + value.getClass());
        }
    }
}
