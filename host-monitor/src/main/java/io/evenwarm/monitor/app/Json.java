package io.evenwarm.monitor.app;

import java.util.Collection;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;

/** JSON texts (RFC 8259), as far as commands print them. */
final class Json {

    private Json() {}

    static String text(String value) {
        StringBuilder out = new StringBuilder(value.length() + 2).append('"');
        for (int i = 0; i < value.length(); i++) {
            char c = value.charAt(i);
            if (c == '"' || c == '\\') {
                out.append('\\').append(c);
            } else if (c < 0x20) {
                out.append(String.format(Locale.ROOT, "\\u%04x", (int) c));
            } else {
                out.append(c);
            }
        }
        return out.append('"').toString();
    }

    /** {@code null} where there is none. */
    static String text(Optional<String> value) {
        return value.map(Json::text).orElse("null");
    }

    /** {@code members} are {@code "name": value} each, see {@link #member}. */
    static String object(String... members) {
        return "{" + String.join(", ", members) + "}";
    }

    static String member(String name, String jsonValue) {
        return text(name) + ": " + jsonValue;
    }

    /** An array of strings. */
    static String texts(Collection<String> values) {
        return array(values.stream().map(value -> text(value)).toList());
    }

    static String array(Collection<String> jsonValues) {
        return jsonValues.stream().collect(Collectors.joining(", ", "[", "]"));
    }
}
