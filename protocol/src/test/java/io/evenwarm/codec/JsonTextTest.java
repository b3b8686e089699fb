package io.evenwarm.codec;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;

final class JsonTextTest {

    @Test
    void anObjectIsOneLineWithItsMembersInOrder() {
        Map<String, Object> members = new LinkedHashMap<>();
        members.put("name", "egg \"room\"\n°");
        members.put("port", 4770);
        members.put("celsius", 31.5);
        members.put("nan", Double.NaN);
        members.put("none", Optional.empty());
        members.put("some", Optional.of(true));
        members.put("list", List.of(1L, Map.of("a", "b")));

        assertEquals(
                "{\"name\":\"egg \\\"room\\\"\\n°\",\"port\":4770,\"celsius\":31.5,\"nan\":null,"
                        + "\"none\":null,\"some\":true,\"list\":[1,{\"a\":\"b\"}]}",
                JsonText.object(members));
    }

    @Test
    void aValueOfAnotherKindIsRefused() {
        assertThrows(
                IllegalArgumentException.class, () -> JsonText.object(Map.of("a", new Object())));
    }
}
