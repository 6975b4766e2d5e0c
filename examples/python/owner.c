/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * tipcrest._owner: what owns an object of the library. It is a capsule, which Python's collector of
 * cycles does not know: so no collection frees an object while Python code, such as a finalizer in
 * the same cycle, can still reach an array over its memory. Reference counts alone decide. When the
 * last goes, the object is freed first, and what it needs after it. It owns a place before the
 * library puts an object there, so a Ctrl-C on the way back from the call, or an error of it, loses
 * nothing.
 */
#define PY_SSIZE_T_CLEAN
#define Py_LIMITED_API 0x030b0000
#include <Python.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

typedef struct owned {
    const void *place; /* of the pointer to the object; among what it needs */
    void (*release)(void *object);
    PyObject *needs; /* a tuple */
} owned;

static Py_ssize_t alive;

static void let_go(PyObject *capsule) {
    owned *o = PyCapsule_GetPointer(capsule, "tipcrest");
    void *object;
    memcpy(&object, o->place, sizeof object);
    o->release(object);
    Py_DECREF(o->needs);
    free(o);
    alive--;
}

static PyObject *own(PyObject *module, PyObject *arguments) {
    unsigned long long place, release;
    PyObject *needs;
    (void)module;
    if (!PyArg_ParseTuple(arguments, "KKO!", &place, &release, &PyTuple_Type, &needs))
        return NULL;
    owned *o = malloc(sizeof *o);
    if (o == NULL)
        return PyErr_NoMemory();
    o->place = (const void *)(uintptr_t)place;
    o->release = (void (*)(void *))(uintptr_t)release;
    o->needs = needs;
    PyObject *capsule = PyCapsule_New(o, "tipcrest", let_go);
    if (capsule == NULL) {
        free(o);
        return NULL;
    }
    Py_INCREF(needs);
    alive++;
    return capsule;
}

static PyObject *count(PyObject *module, PyObject *unused) {
    (void)module;
    (void)unused;
    return PyLong_FromSsize_t(alive);
}

static PyMethodDef methods[] = {
    {"own", own, METH_VARARGS,
     "own(place, release, needs): owns the object whose pointer is at an address, or NULL, and "
     "which "
     "the function at another address frees; what it needs, a tuple, lives at least as long."},
    {"count", count, METH_NOARGS, "count(): how many objects are owned."},
    {NULL, NULL, 0, NULL},
};

static struct PyModuleDef module = {
    PyModuleDef_HEAD_INIT, "tipcrest._owner", NULL, -1, methods, NULL, NULL, NULL, NULL};

PyMODINIT_FUNC PyInit__owner(void) { return PyModule_Create(&module); }
